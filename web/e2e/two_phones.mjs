// Two pages of one phone, and a second phone: what is done on one is done on the other, and what two
// phones wrote at once is in the book once each.
import { check, counted, kPhone, open_page, open_server, until } from './harness.mjs';

const due = (page) => page.locator('[data-state="due"]');
const header = (page) => page.locator('header').textContent();
const water = (page, n) => page.locator('[data-state="due"] .tap', { hasText: 'fresh water' }).nth(n);

async function online(...pages) {
  for (const page of pages) await page.evaluate(() => dispatchEvent(new Event('online')));
}

export async function run(browser) {
  const server = await open_server();
  const one = await open_page(browser, server, kPhone);
  await one.waitForSelector('[data-open]');
  const two = await one.context().newPage();
  await two.goto(`${server.url}/#/round`);
  await two.waitForSelector('[data-open]');
  const at_first = await due(two).count();

  await server.down();
  await water(one, 0).tap();
  await counted('a tap on one page is shown on the other', due(two), at_first - 1);
  await until('both count what waits', async () => (await header(two)).includes('1 waiting') && (await header(one)).includes('1 waiting'));
  await server.up();
  await online(one, two);
  for (const page of [one, two]) await until('both say that all is sent', async () => (await header(page)).includes('All sent'), 45_000);
  check((await server.stored()).length === 1, 'it was sent once');

  // What the book learns after it gave the round and before the page hears of changes.
  const deaf = await one.context().newPage();
  let hears;
  const silence = new Promise((end) => (hears = end));
  await deaf.route('**/api/events', async (route) => (await silence, route.continue()));
  await deaf.goto(`${server.url}/#/round`);
  await deaf.waitForSelector('[data-open]');
  const known = await due(deaf).count();
  const third = await open_page(browser, server, kPhone);
  await third.waitForSelector('[data-open]');
  await water(third, 0).tap();
  await until('it is in the book', async () => (await server.stored()).length === 2);
  hears();
  await counted('a page that began to listen late knows it too', due(deaf), known - 1);
  await counted('as the page that listened does', due(one), at_first - 2);
  await deaf.close();
  await third.context().close();

  const other = await open_page(browser, server, kPhone);
  await other.waitForSelector('[data-open]');
  const before = await due(other).count();
  await water(one, 0).tap();
  await counted('the other phone hears of it from the server', due(other), before - 1);

  // Both at once, without a server: different tasks, and once the same one.
  await server.down();
  await water(one, 0).tap();
  await water(other, 1).tap();
  await until('each has its own waiting', async () => (await header(one)).includes('1 waiting') && (await header(other)).includes('1 waiting'));
  await server.up();
  await online(one, other);
  await until('both are in the book', async () => (await server.stored()).length === 5, 45_000);
  for (const page of [one, other]) {
    await until('both say that all is sent', async () => (await header(page)).includes('All sent'), 45_000);
    await counted('and both show what the other did', due(page), before - 3);
  }
  const ids = (await server.stored()).map((entry) => entry.id);
  check(new Set(ids).size === 5, 'each once', ids);
  check(one.errors.length + other.errors.length === 0, 'no errors', [...one.errors, ...other.errors]);
  await server.close();
}
