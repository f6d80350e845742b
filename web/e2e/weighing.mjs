// A weighing: a number with a comma, a word where it is far from the last, an hour of this morning.
import { check, check_axe, kPhone, open_page, open_server, shot, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, kPhone);
  const row = page.locator('[data-state="due"]', { hasText: 'weigh Basalt' });
  await row.locator('.tap').tap();
  const sheet = page.locator('dialog[open]');
  const mass = sheet.getByLabel('Mass');
  check(await mass.evaluate((one) => one === document.activeElement), 'the number has the focus');
  check((await mass.getAttribute('inputmode')) === 'decimal', 'the keypad is for numbers');
  check((await sheet.getByLabel('Unit').inputValue()) === 'kg', 'the unit is that of the last weighing');
  await sheet.getByRole('button', { name: 'Save' }).tap();
  await sheet.getByText('Type a number above zero').waitFor();
  check(true, 'nothing typed is told, not saved');
  await mass.fill('1,2');
  await sheet.getByText(/^That is \d+ % less than last time/).waitFor();
  await shot(page, 'weighing-far-off');
  await check_axe(page, 'the sheet with its warning', { aaa: true });
  await mass.fill('1,65');
  await until('the warning goes', async () => (await sheet.getByText(/^That is/).count()) === 0);
  await sheet.getByText('Another time').tap();
  await sheet.getByLabel('Day').fill('2031-01-01');
  await sheet.getByText('That time has not come yet.').waitFor();
  const yesterday = new Date(Date.now() - 86_400_000).toISOString().slice(0, 10);
  await sheet.getByLabel('Day').fill(yesterday);
  await sheet.getByLabel('Time').fill('07:30');
  await shot(page, 'weighing-another-time');
  await sheet.getByLabel('Remark').fill('after droppings');
  await sheet.getByRole('button', { name: 'Save' }).tap();
  await page.getByText('Saved: weigh Basalt: 1.65 kg').waitFor();
  await until('it is in the book', async () => (await server.stored()).length === 1);
  const [entry] = (await server.stored());
  check(/1\.65\s?kg/.test(entry.mass ?? entry.text) && entry.subject === 'basalt' && entry.note === 'after droppings', 'as it was typed', entry);
  check(entry.at.startsWith(yesterday), 'at the time that was told', entry.at);

  // A long press opens the sheet of a task that a tap would have done.
  const water = page.locator('[data-state="due"] .tap', { hasText: 'fresh water' }).first();
  await water.scrollIntoViewIfNeeded();
  await water.dispatchEvent('pointerdown');
  await page.locator('dialog[open]').waitFor();
  await page.waitForTimeout(50);
  await water.dispatchEvent('pointerup');
  await water.dispatchEvent('click');
  check((await server.stored()).length === 1, 'a long press opens the sheet and writes nothing');
  await page.keyboard.press('Escape');
  await page.locator('dialog').waitFor({ state: 'detached' });

  // A refusal, told in the sheet.
  const feed = page.locator('[data-state="due"]', { hasText: 'feed Ochre' });
  await feed.getByRole('button', { name: /^More for: / }).tap();
  await page.locator('dialog[open]').getByRole('radio', { name: 'Refused' }).tap();
  await shot(page, 'meal-sheet');
  await check_axe(page, 'the sheet of a meal', { aaa: true });
  await page.locator('dialog[open]').getByRole('button', { name: 'Save' }).tap();
  await until('the refusal is in the book', async () => (await server.stored()).some((one) => one.kind === 'refused'));
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
