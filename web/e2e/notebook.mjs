// The notebook against the real server: written without a signal, sent, found again, struck, older pages.
import { check, check_axe, kPhone, look_at, open_page, open_server, shot, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, kPhone, '#/notebook');
  await page.locator('li[data-struck]').first().waitFor();
  const rows = page.locator('li[data-struck]');
  const first = await rows.count();
  check(first === 50, 'the first page has fifty entries', first);
  await page.getByRole('button', { name: 'Show older' }).tap();
  await until('older entries come below', async () => (await rows.count()) > first);

  // Without a signal: written, shown as waiting on top.
  await page.context().setOffline(true);
  await page.getByRole('button', { name: 'Write an entry' }).tap();
  const sheet = page.locator('dialog[open]');
  await sheet.getByLabel('What happened').selectOption('measured');
  await sheet.getByRole('button', { name: 'Save' }).tap();
  check((await sheet.getByText('Choose what it is about.').count()) === 1, 'a missing animal is told');
  check((await sheet.getByText('Type a number above zero').count()) === 1, 'a missing length is told');
  await shot(page, 'notebook-sheet-faults');
  await check_axe(page, 'the sheet');
  await sheet.getByLabel('About').selectOption('juniper');
  await sheet.getByLabel('Length', { exact: true }).fill('112,5');
  await sheet.getByLabel('Remark').fill('<b>along a string</b>');
  await sheet.getByRole('button', { name: 'Save' }).tap();
  await page.getByRole('heading', { name: 'Waiting on this phone' }).waitFor();
  check((await page.getByText('Juniper: measured 112.5 cm').count()) > 0, 'it stands on top as waiting');
  await shot(page, 'notebook-waiting');
  await page.context().setOffline(false);
  await until('it goes as soon as there is a signal', async () => (await page.getByRole('heading', { name: 'Waiting on this phone' }).count()) === 0);
  const row = page.locator('li[data-struck]', { hasText: 'along a string' });
  await row.waitFor();
  check((await row.textContent()).includes('<b>along a string</b>'), 'words are shown as they were typed, never as markup');
  const book = await (await fetch(`${server.url}/api/export/notebook.jsonl`)).text();
  const line = book.trim().split('\n').at(-1);
  check(/112\.5/.test(line) && /"measured"/.test(line) && /"animal":"juniper"/.test(line), 'the book has what was typed', line);

  // Search, then strike it.
  await page.getByText('Search and filter').tap();
  await page.getByLabel('Words').fill('along a string');
  await page.getByRole('button', { name: 'Find' }).tap();
  await until('the search finds the one', async () => (await rows.count()) === 1);
  await row.getByRole('button', { name: /^Strike/ }).tap();
  const ask = page.locator('dialog[open]');
  check((await ask.getByText('A strike cannot be taken back').count()) === 1, 'it is asked before striking');
  await shot(page, 'notebook-strike');
  await ask.getByLabel('Why (a remark)').fill('read the wrong end');
  await ask.getByRole('button', { name: 'Strike it' }).tap();
  await page.getByText('Struck: does not hold').waitFor();
  check((await row.getByRole('button').count()) === 0, 'what is struck cannot be struck again');
  await shot(page, 'notebook-struck');

  // By kind and thing.
  await page.goto(`${server.url}/#/notebook?subject_kind=animal&subject=juniper&kind=weighed`);
  await page.getByText('Search and filter (2 in use)').waitFor();
  await until('only weighings of Juniper', async () => {
    const texts = await rows.allTextContents();
    return texts.length > 3 && texts.every((text) => /Juniper/.test(text) && /weighed|weight/i.test(text));
  });
  await page.goto(`${server.url}/#/notebook?text=no+such+words+anywhere`);
  await page.getByText('Nothing in the notebook is like that').waitFor();
  check(true, 'nothing found is said');
  check(page.errors.length === 0, 'no errors', page.errors);
  await look_at(browser, server, [['notebook', 'notebook', 'li[data-struck]']]);
  await server.close();

  const bare = await open_server({ empty: true });
  await look_at(browser, bare, [['notebook-empty', 'notebook', 'h2:has-text("Nothing is written yet")']]);
  await bare.close();
}
