// How quick the round is there, and a tap in it, on a slow phone. Prints figures and judges none: they
// depend on the machine. `npm run e2e speed`; not among the modules that run by themselves.
import { check, kPhone, open_server, say } from './harness.mjs';

const kSlower = 4; // the processor, as on a slow phone
const kOpenings = 7;
const kTaps = 12;
// "Slow 4G" as browsers' tools have it: 1.6 Mbit/s down, 0.75 up, 150 ms.
const kSlow4g = { offline: false, latency: 150, downloadThroughput: 200_000, uploadThroughput: 93_750 };

export async function run(browser) {
  const server = await open_server({ sixty: true });
  const near = [];
  for (let n = 0; n < kOpenings; ++n) {
    const page = await slow_phone(browser);
    near.push(await opening(page, server));
    await page.context().close();
  }
  tell('on loopback, opened the first time', near);
  const phone = await slow_phone(browser);
  await opening(phone, server);
  await phone.waitForFunction(() => navigator.serviceWorker.controller !== null);
  const again = [];
  for (let n = 0; n < kOpenings; ++n) again.push(await opening(phone, server));
  tell('on loopback, opened again', again);
  await taps(phone);
  await phone.context().close();

  const far = await slow_phone(browser);
  await far.devtools.send('Network.enable');
  await far.devtools.send('Network.emulateNetworkConditions', kSlow4g);
  tell('over slow 4G, opened the first time', [await opening(far, server)]);
  await far.context().close();
  check(true, 'figures printed');
  await server.close();
}

async function slow_phone(browser) {
  const context = await browser.newContext(kPhone);
  await context.addInitScript(() => {
    const watch = new MutationObserver(() => {
      if (!document.querySelector('[data-open]')) return;
      watch.disconnect();
      requestAnimationFrame(() => {
        // A message comes when the frame is painted.
        const after = new MessageChannel();
        after.port1.onmessage = () => { window.painted_ms = performance.now(); };
        after.port2.postMessage(null);
      });
    });
    watch.observe(document, { childList: true, subtree: true });
  });
  const page = await context.newPage();
  page.devtools = await context.newCDPSession(page);
  await page.devtools.send('Emulation.setCPUThrottlingRate', { rate: kSlower });
  return page;
}

/** Milliseconds from the start of the page until stops with their tasks are on the screen. */
async function opening(page, server) {
  await page.goto('about:blank');
  await page.goto(`${server.url}/#/round`);
  await page.waitForFunction(() => window.painted_ms !== undefined);
  return page.evaluate(() => window.painted_ms);
}

/** A tap on a task to its tick, in milliseconds. */
async function taps(page) {
  await page.context().route('**/api/entries', (route) => route.abort());
  say(`tasks on the page: ${await page.locator('[data-state]').count()}`);
  const times = await page.evaluate(async (count) => {
    const taken = [];
    for (let n = 0; n < count; ++n) {
      const row = [...document.querySelectorAll('[data-state="due"] .tap')].find((one) => /fresh water|spot clean|mist/.test(one.textContent) && one.closest('.card').querySelectorAll('[data-state="due"]').length > 1);
      const li = row.closest('li');
      const from = performance.now();
      row.click();
      while (li.isConnected && li.dataset.state === 'due') await new Promise((done) => requestAnimationFrame(done));
      taken.push(performance.now() - from);
      await new Promise((done) => setTimeout(done, 600));
    }
    return taken;
  }, kTaps);
  tell('a tap to the tick', times);
}

function tell(what, times_ms) {
  const sorted = times_ms.map(Math.round).sort((a, b) => a - b);
  say(`${what}: median ${sorted[Math.floor(sorted.length / 2)]} ms of ${sorted.join(' ')}`);
}
