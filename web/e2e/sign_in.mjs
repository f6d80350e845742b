// Signing in and out: wrong words, a sitter's places, and what waits is asked about and kept.
import { axe, check, kPhone, open_page, open_server, shot, until } from './harness.mjs';

async function sign_in(page, name, passphrase) {
  await page.getByLabel('Name').fill(name);
  await page.getByLabel('Passphrase', { exact: true }).fill(passphrase);
  await page.getByRole('button', { name: 'Sign in' }).tap();
}

export async function run(browser) {
  const server = await open_server({ people: true });
  const page = await open_page(browser, server, kPhone);
  await page.getByRole('heading', { name: 'Sign in' }).waitFor();
  check((await page.getByRole('navigation').count()) === 0, 'no places before signing in');
  check((await axe(page, true)).length === 0, 'the sign-in page: axe', await axe(page, true));
  await sign_in(page, 'keeper', 'not the words');
  await page.getByText('Name or passphrase is not right.').waitFor();
  await shot(page, 'sign-in-wrong');
  await sign_in(page, 'keeper', 'three warm stones');
  await page.waitForSelector('[data-open]');

  await server.faults('down');
  await page.locator('[data-state="due"] .tap', { hasText: 'fresh water' }).first().tap();
  await until('one waits', async () => (await page.locator('header').textContent()).includes('1 waiting'));
  await page.goto(`${server.url}/#/more`);
  await page.getByRole('button', { name: 'Sign out' }).tap();
  const sheet = page.locator('dialog[open]');
  await sheet.getByText('1 entry is not in the book yet.').waitFor();
  await shot(page, 'sign-out-asks');
  check((await axe(page, true)).length === 0, 'the question: axe', await axe(page, true));
  await sheet.getByRole('button', { name: 'Sign out and keep it here' }).tap();
  await sheet.getByText('so you are still signed in').waitFor();
  check(true, 'without the server one stays signed in');
  // The server is back, but its answers to the next calls are cut: the entry waits, the sign-out goes.
  await server.faults();
  await sheet.getByRole('button', { name: 'Sign out and keep it here' }).tap();
  await page.getByText('1 entry waits on this phone.').waitFor();
  check(true, 'signed out, it is kept and told');
  await shot(page, 'sign-in-kept');
  check((await server.stored()).length === 0, 'and not sent by nobody');

  await sign_in(page, 'sitter', 'two cool stones');
  await until('it is sent after signing in', async () => (await server.stored()).length === 1);
  const places = await page.getByRole('navigation').getByRole('link').allTextContents();
  check(places.map((one) => one.trim()).join(' ').startsWith('Round More'), 'a sitter has the round and more', places);
  await page.goto(`${server.url}/#/notebook`);
  await page.getByText('This page is not for your role.').waitFor();
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
