// How quick the round is there, and a tap in it, on a slow phone. Prints figures and judges none: they
// depend on the machine. `npm run e2e speed`; not among the modules that run by themselves.
import { check, kPhone, open_server, say } from './harness.mjs';

const kSlower = 4; // the processor, as on a slow phone
const kSixtyAnimals = 45; // stops
const kThreeHundred = 200;
// "Slow 4G" as browsers' tools have it: 1.6 Mbit/s down, 0.75 up, 150 ms.
const kSlow4g = { offline: false, latency: 150, downloadThroughput: 200_000, uploadThroughput: 93_750 };

export async function run(browser) {
  const server = await open_server();
  const answer = await (await fetch(`${server.url}/api/round`)).json();
  const near = await slow_phone(browser, server, answer, kSixtyAnimals);
  for (const opened of ['the first time', 'again']) {
    const shown = [];
    for (let n = 0; n < 5; ++n) {
      if (opened === 'the first time' && n > 0) break;
      await near.goto('about:blank');
      await near.goto(`${server.url}/#/round`);
      shown.push(await first_useful_paint(near));
    }
    say(`sixty animals on loopback, opened ${opened}: the round is painted after ${shown.map(Math.round).join(' ')} ms`);
  }
  await near.context().close();
  await far_away(browser, server, answer);
  check(true, 'figures printed');
  await server.close();
}

/** A page on a slow phone, with a round of so many stops. */
async function slow_phone(browser, server, answer, stops) {
  const round = Array.from({ length: stops }, (_, n) => {
    const stop = answer.round[1 + (n % (answer.round.length - 1))];
    const enclosure = `e-${n}`;
    return { ...stop, enclosure, title: `${stop.title} ${n}`, tasks: stop.tasks.map((task) => ({ ...task, enclosure, subject: task.animal ? `${task.subject}-${n}` : enclosure })) };
  });
  const context = await browser.newContext(kPhone);
  await context.route('**/api/round', (route) => route.fulfill({ json: { ...answer, round } }));
  await context.addInitScript(() => {
    const watch = new MutationObserver(() => {
      if (!document.querySelector('[data-open]')) return;
      watch.disconnect();
      requestAnimationFrame(() => requestAnimationFrame(() => { window.painted_ms = performance.now(); }));
    });
    watch.observe(document, { childList: true, subtree: true });
  });
  const page = await context.newPage();
  const devtools = await context.newCDPSession(page);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: kSlower });
  page.devtools = devtools;
  return page;
}

/** Milliseconds from the start of the page until stops with their tasks are on the screen. */
async function first_useful_paint(page) {
  await page.waitForFunction(() => window.painted_ms !== undefined);
  return page.evaluate(() => window.painted_ms);
}

async function far_away(browser, server, answer) {
  const page = await slow_phone(browser, server, answer, kThreeHundred);
  await page.context().route('**/api/entries', (route) => route.abort());
  await page.devtools.send('Network.enable');
  await page.devtools.send('Network.emulateNetworkConditions', kSlow4g);
  await page.goto(`${server.url}/#/round`);
  say(`300 animals over slow 4G: the round is painted after ${Math.round(await first_useful_paint(page))} ms`);
  say(`tasks on the page: ${await page.locator('[data-state]').count()}`);
  const taps = await page.evaluate(async () => {
    const times = [];
    for (let n = 0; n < 12; ++n) {
      const row = [...document.querySelectorAll('[data-state="due"] .tap')].find((one) => /fresh water|spot clean|mist/.test(one.textContent) && one.closest('.card').querySelectorAll('[data-state="due"]').length > 1);
      const li = row.closest('li');
      const from = performance.now();
      row.click();
      while (li.isConnected && li.dataset.state === 'due') await new Promise((done) => requestAnimationFrame(done));
      times.push(performance.now() - from);
      await new Promise((done) => setTimeout(done, 600));
    }
    return times.sort((a, b) => a - b).map(Math.round);
  });
  say(`a tap to the tick, ms: ${taps.join(' ')}`);
  await page.context().close();
}
