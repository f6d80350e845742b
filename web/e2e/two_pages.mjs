// Two pages of one phone, and a second phone: what is done on one is done on the other.
import { check, kPhone, open_page, open_server, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const one = await open_page(browser, server, kPhone);
  await one.waitForSelector('[data-open]');
  const two = await one.context().newPage();
  await two.goto(`${server.url}/#/round`);
  await two.waitForSelector('[data-open]');
  const due = (page) => page.locator('[data-state="due"]').count();
  const at_first = await due(two);

  if (server.is_mock) await server.faults('down');
  await one.locator('[data-open] [data-state="due"] .tap', { hasText: 'fresh water' }).first().tap();
  await until('a tap on one page is shown on the other', async () => (await due(two)) === at_first - 1);
  if (server.is_mock) {
    await until('both count what waits', async () =>
      (await two.locator('header').textContent()).includes('1 waiting') && (await one.locator('header').textContent()).includes('1 waiting'));
    await server.faults();
    for (const page of [one, two]) await page.evaluate(() => dispatchEvent(new Event('online')));
  }
  for (const page of [one, two]) {
    await until('both say that all is sent', async () => (await page.locator('header').textContent()).includes('All sent'), 45_000);
  }
  const { stored, arrived } = await server.stored();
  check(stored.length === 1 && arrived.length === 1, 'it was sent once', [stored.length, arrived.length]);

  const other_phone = await open_page(browser, server, kPhone);
  await other_phone.waitForSelector('[data-open]');
  const before = await due(other_phone);
  await one.locator('[data-open] [data-state="due"] .tap', { hasText: 'fresh water' }).first().tap();
  await until('the other phone hears of it from the server', async () => (await due(other_phone)) === before - 1);
  check(one.errors.length + other_phone.errors.length === 0, 'no errors', [...one.errors, ...other_phone.errors]);
  server.close();
}
