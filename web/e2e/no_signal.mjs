// Without a signal: the app opens, twenty entries are written, a reload loses none, and when the
// server is back each is stored once, in order. Then all the ways in which an answer can fail.
import { check, kPhone, open_page, open_server, shot, until } from './harness.mjs';

const header = (page) => page.locator('header').textContent();

export async function run(browser) {
  const server = await open_server();
  if (!server.is_mock) return;
  const page = await open_page(browser, server, kPhone);
  await page.waitForSelector('[data-open]');
  await page.waitForFunction(() => navigator.serviceWorker.ready.then(() => true));
  // The first visit is not under the worker yet; the second is.
  await page.reload();
  await page.waitForSelector('[data-open]');

  await server.faults('down');
  const rows = page.locator('[data-state="due"] .tap', { hasText: /fresh water|feed|spot clean|mist|Drain|full clean/ });
  for (let n = 0; n < 20; ++n) {
    await page.waitForTimeout(420);
    await rows.first().scrollIntoViewIfNeeded();
    await rows.first().tap();
    await until(`${n + 1} wait`, async () => (await header(page)).includes(`${n + 1} waiting on this phone`));
  }
  check((await header(page)).includes('Not reachable'), 'it says that the server cannot be reached', await header(page));
  await shot(page, 'no-signal');
  await page.reload();
  await page.waitForSelector('[data-open]');
  await until('after a reload without a server 20 wait', async () => (await header(page)).includes('20 waiting on this phone'));
  await page.getByText(/^As of .*, not reachable$/).waitFor();
  check((await page.locator('[data-state="waiting"]').count()) >= 20, 'and the ticked tasks are shown as saved on this phone');
  await page.evaluate(() => scrollTo(0, 0));
  await shot(page, 'no-signal-reloaded');
  await page.goto(`${server.url}/#/waiting`);
  await page.getByRole('heading', { name: 'Waiting on this phone' }).waitFor();
  check((await page.locator('main ol li').count()) === 20, 'the list of what waits has 20');
  await shot(page, 'waiting-20');
  check((await server.stored()).stored.length === 0, 'the book has none of them');

  await server.faults();
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await until('all are sent when the server is back', async () => (await header(page)).includes('All sent'), 60_000);
  const { stored, arrived } = await server.stored();
  check(stored.length === 20 && arrived.length === 20, 'each is stored once', [stored.length, arrived.length]);
  const times = stored.map((one) => one.at);
  check(times.every((at, i) => i === 0 || times[i - 1] <= at), 'in the order of writing');

  // Answers that fail, one after the other; each is tried again when the page is looked at.
  await page.goto(`${server.url}/#/round`);
  for (const fault of ['cut_before', 'cut_after', 'half', '500', 'slow']) {
    const before = (await server.stored()).stored.length;
    await page.waitForTimeout(450);
    await server.faults(fault);
    const row = page.locator('[data-state="due"] .tap').filter({ hasNotText: /weigh|UV reading|mites/ }).first();
    await row.scrollIntoViewIfNeeded();
    await row.tap();
    await page.waitForTimeout(600);
    await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
    await until(`after "${fault}" it is stored once`, async () => {
      const now = await server.stored();
      return now.stored.length === before + 1 && (await header(page)).includes('All sent');
    });
  }
  const twice = (await server.stored()).stored.map((one) => one.id);
  check(new Set(twice).size === twice.length, 'no id is stored twice');
  check(page.errors.length === 0, 'no errors', page.errors);
  server.close();
}
