// How quick a tap is in a large room on a slow phone. Prints figures and judges none: they depend on
// the machine. `npm run e2e speed`; not among the modules that run by themselves.
import { kPhone, open_server } from './harness.mjs';

const kStops = 200; // about 300 animals
const kSlower = 4; // the processor, as on a slow phone

export async function run(browser) {
  const server = await open_server();
  const answer = await (await fetch(`${server.url}/api/round`)).json();
  const many = Array.from({ length: kStops }, (_, n) => {
    const stop = answer.round[1 + (n % (answer.round.length - 1))];
    const enclosure = `e-${n}`;
    return { ...stop, enclosure, title: `${stop.title} ${n}`, tasks: stop.tasks.map((task) => ({ ...task, enclosure, subject: task.animal ? `${task.subject}-${n}` : enclosure })) };
  });
  const context = await browser.newContext(kPhone);
  await context.route('**/api/round', (route) => route.fulfill({ json: { ...answer, round: many } }));
  await context.route('**/api/entries', (route) => route.abort());
  const page = await context.newPage();
  const devtools = await context.newCDPSession(page);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: kSlower });
  await devtools.send('Network.enable');
  // "Slow 4G" as browsers' tools have it: 1.6 Mbit/s down, 0.75 up, 150 ms.
  await devtools.send('Network.emulateNetworkConditions', { offline: false, latency: 150, downloadThroughput: 200_000, uploadThroughput: 93_750 });
  const start = Date.now();
  await page.goto(`${server.url}/#/round`);
  await page.waitForSelector('[data-open]');
  console.log(`  first open to the round: ${Date.now() - start} ms`);
  console.log(`  tasks on the page: ${await page.locator('[data-state]').count()}`);
  const paint = await page.evaluate(() => new Promise((done) => {
    new PerformanceObserver((list) => done(list.getEntries().at(-1).startTime)).observe({ type: 'largest-contentful-paint', buffered: true });
  }));
  console.log(`  largest paint so far: ${Math.round(paint)} ms`);
  const taps = await page.evaluate(async () => {
    const times = [];
    for (let n = 0; n < 12; ++n) {
      const row = [...document.querySelectorAll('[data-state="due"] .tap')].find((one) => /fresh water|spot clean|mist/.test(one.textContent) && one.closest('.card').querySelectorAll('[data-state="due"]').length > 1);
      const li = row.closest('li');
      const from = performance.now();
      row.click();
      while (li.dataset.state === 'due') await new Promise((done) => requestAnimationFrame(done));
      times.push(performance.now() - from);
      await new Promise((done) => setTimeout(done, 600));
    }
    return times.sort((a, b) => a - b).map(Math.round);
  });
  console.log(`  a tap to the tick, ms: ${taps.join(' ')}`);
  await server.close();
}
