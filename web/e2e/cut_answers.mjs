// All the ways in which an answer can fail, one after the other: whatever happens, what was tapped is in
// the book once.
import { check, kPhone, open_faulty_server, open_page, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_faulty_server();
  const page = await open_page(browser, server, kPhone);
  await page.waitForSelector('[data-open]');
  const sent = async () => (await page.locator('header').textContent()).includes('All sent');
  await until('the page has asked all it wants', sent);
  for (const fault of ['cut_before', 'cut_after', 'half', '500', 'slow']) {
    const before = (await server.stored()).length;
    // The second card: its row stays where it is, whatever the first one does.
    const card = page.locator('li.card:not([data-open="0"]):not([data-open="1"])').first();
    const row = card.locator('[data-state="due"] .tap').filter({ hasNotText: /weigh|UV reading|mites/ }).first();
    server.fail(fault);
    await row.tap();
    // Looked at again, the page tries again, not only after its half minute.
    await until(`after "${fault}" it is stored once`, async () => {
      if ((await server.stored()).length === before + 1 && (await sent())) return true;
      await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
      await page.waitForTimeout(300);
      return false;
    });
  }
  const ids = (await server.stored()).map((one) => one.id);
  check(ids.length === 5 && new Set(ids).size === 5, 'no entry is stored twice', ids);
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
