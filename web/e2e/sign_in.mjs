// Signing in and out with real passphrases: wrong words, what waits is asked about and kept, who signs in
// next sends it.
import { check, check_axe, kPhone, open_page, open_server, seen, shot, tight_spots, until } from './harness.mjs';

export const kAda = { name: 'Ada', role: 'owner', passphrase: 'four warm dry stones' };
export const kBen = { name: 'Ben', role: 'keeper', passphrase: 'three wet mossy logs' };
export const kCleo = { name: 'Cleo', role: 'sitter', passphrase: 'two cool flat slates' };

export async function sign_in(page, { name, passphrase }) {
  await page.getByLabel('Name').fill(name);
  await page.getByLabel('Passphrase', { exact: true }).fill(passphrase);
  await page.getByRole('button', { name: 'Sign in' }).tap();
}

/** A phone of somebody who has signed in, with the round before them. */
export async function phone_of(browser, server, person) {
  const page = await open_page(browser, server, kPhone);
  await page.getByRole('heading', { name: 'Sign in' }).waitFor();
  await sign_in(page, person);
  await page.waitForSelector('[data-open]');
  return page;
}

export async function run(browser) {
  const server = await open_server({ people: [kAda, kBen, kCleo] });
  const page = await open_page(browser, server, kPhone);
  await page.getByRole('heading', { name: 'Sign in' }).waitFor();
  check((await page.getByRole('navigation').count()) === 0, 'no places before signing in');
  for (const colorScheme of ['light', 'dark']) {
    await page.emulateMedia({ colorScheme });
    for (const viewport of [{ width: 320, height: 640 }, { width: 1280, height: 900 }, kPhone.viewport]) {
      await page.setViewportSize(viewport);
      await check_axe(page, `the sign-in page, ${viewport.width} px, ${colorScheme}`, { aaa: true });
      check((await tight_spots(page)).length === 0, 'and its sizes', await tight_spots(page));
    }
    await shot(page, `sign-in-phone-${colorScheme}`);
  }
  await sign_in(page, { ...kBen, passphrase: 'not the right words' });
  await seen('wrong words are told', page.getByText('Name or passphrase is not right.'));
  await shot(page, 'sign-in-wrong');
  await sign_in(page, kBen);
  await page.waitForSelector('[data-open]');
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);

  await server.down();
  await page.locator('[data-state="due"] .tap', { hasText: 'fresh water' }).first().tap();
  await until('one waits', async () => (await page.locator('header').textContent()).includes('1 waiting'));
  await page.goto(`${server.url}/#/more`);
  await page.getByRole('button', { name: 'Sign out' }).tap();
  const sheet = page.locator('dialog[open]');
  await sheet.getByText('1 entry is not in the book yet.').waitFor();
  await shot(page, 'sign-out-asks');
  await check_axe(page, 'the question', { aaa: true });
  await sheet.getByRole('button', { name: 'Sign out and keep it here' }).tap();
  await seen('without the server one stays signed in', sheet.getByText('so you are still signed in'));
  // The server is back, and the sign-out comes before what waits is sent.
  await page.route('**/api/entries', (route) => route.abort());
  await server.up();
  await sheet.getByRole('button', { name: 'Sign out and keep it here' }).tap();
  await seen('signed out, it is kept and told', page.getByText('1 entry waits on this phone.'));
  await shot(page, 'sign-in-kept');
  check((await server.stored()).length === 0, 'and not sent by nobody');
  await page.unroute('**/api/entries');

  await sign_in(page, kCleo);
  await until('it is sent after signing in', async () => (await server.stored()).length === 1);
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
