// Entries that the book does not take: they stay, with the reason; one is mended, one thrown away.
import { check, check_axe, kPhone, open_faulty_server, open_page, shot, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_faulty_server();
  const page = await open_page(browser, server, kPhone);
  await page.waitForSelector('[data-open]');
  const header = () => page.locator('header').textContent();
  const water = () => page.locator('[data-open] [data-state="due"] .tap', { hasText: 'fresh water' }).first();
  server.fail('refuse', 'refuse');
  await water().tap();
  await until('one needs a look', async () => (await header()).includes('1 entry needs a look'));
  await page.waitForTimeout(450);
  await water().tap();
  await until('two need a look', async () => (await header()).includes('2 entries need a look'));
  check((await page.locator('[data-state="refused"]').count()) === 2, 'their tasks say that the book did not take them');
  await check_axe(page, 'the round with refused entries', { aaa: true });
  await shot(page, 'round-refused');
  await page.reload();
  await page.waitForSelector('[data-open]');
  check((await header()).includes('2 entries need a look'), 'they stay over a reload');
  await page.getByRole('link', { name: /2 entries need a look/ }).tap();
  await page.getByText('note: the book says no; expected other words; found these').first().waitFor();
  await check_axe(page, 'the page of what waits');
  await page.getByRole('button', { name: 'Mend it' }).first().tap();
  await page.getByLabel('Remark').fill('other words');
  await shot(page, 'refused-mend');
  await check_axe(page, 'mending');
  await page.getByRole('button', { name: 'Send it again' }).first().tap();
  await until('the mended one is in the book', async () => (await server.stored()).some((one) => one.note === 'other words'));
  await page.getByRole('button', { name: 'Throw it away' }).tap();
  await shot(page, 'refused-throw-away');
  await page.locator('dialog[open]').getByRole('button', { name: 'Throw it away' }).tap();
  await page.getByText('Nothing waits.').waitFor();
  check((await server.stored()).length === 1, 'the other is not in the book');
  await page.goto(`${server.url}/#/round`);
  await page.waitForSelector('[data-open]');
  check((await page.locator('[data-state="refused"]').count()) === 0 && (await page.locator('[data-state="in_book"]').count()) === 1, 'its task is due again, the mended one is done');
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
