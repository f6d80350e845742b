// People against the real server: the first owner, signing in, a keeper, changing and taking out.
import { check, check_axe, kDesk, kPhone, look_at, open_page, open_server, shot, tight_spots, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  await look_at(browser, server, [['people-empty', 'people', 'form']]);
  const page = await open_page(browser, server, kPhone, '#/people');
  await page.getByRole('heading', { name: 'Nobody has to sign in yet' }).waitFor();
  const save = page.getByRole('button', { name: 'Save' });
  await save.tap();
  await page.getByText('Type a name of at most 64 letters').waitFor();
  await page.getByLabel('Name').fill('Ada');
  await page.getByLabel('Passphrase', { exact: true }).fill('too short');
  await save.tap();
  await page.locator('#person-pass-fault', { hasText: 'at least 12 letters' }).waitFor();
  check(await page.getByLabel('Keeper:').isDisabled(), 'the first person is an owner');
  await page.getByLabel('Passphrase', { exact: true }).fill('four warm dry stones');
  await save.tap();
  // From now on everybody signs in.
  await page.getByRole('button', { name: 'Sign in' }).waitFor();
  await page.getByLabel('Name').fill('Ada');
  await page.getByLabel('Passphrase', { exact: true }).fill('four warm dry stones');
  await page.getByRole('button', { name: 'Sign in' }).tap();
  await page.getByText('(you)').waitFor();
  await page.getByLabel('Name').fill('Ben');
  await page.getByLabel('Sitter:').check();
  await page.getByLabel('Passphrase', { exact: true }).fill('four cool dry stones');
  await save.tap();
  await page.getByText('Saved: Ben may sign in').waitFor();
  await page.locator('li', { hasText: 'Ben' }).getByText('Sitter').waitFor();
  check(true, 'a sitter was added');
  await page.getByRole('button', { name: /^Take out ?: Ada/ }).tap();
  await page.getByText('The last owner cannot be taken out').waitFor();
  await shot(page, 'people-last-owner');
  await page.getByRole('button', { name: 'Cancel' }).tap();
  for (const colorScheme of ['light', 'dark']) {
    await page.emulateMedia({ colorScheme });
    await check_axe(page, `people ${colorScheme}`);
    check((await tight_spots(page)).length === 0, `people ${colorScheme}: sizes`, await tight_spots(page));
    await shot(page, `people-phone-${colorScheme}`, true);
  }
  await page.setViewportSize(kDesk.viewport);
  await shot(page, 'people-desk-dark', true);
  await page.getByRole('button', { name: /^Change ?: Ben/ }).click();
  await page.getByRole('heading', { name: 'Change Ben' }).waitFor();
  await page.getByRole('button', { name: 'Cancel' }).click();
  await page.getByRole('button', { name: /^Take out ?: Ben/ }).click();
  await page.locator('dialog[open]').getByRole('button', { name: 'Take out', exact: true }).click();
  await page.getByText('Ben may no longer sign in').waitFor();
  await until('and was taken out', async () => (await page.locator('main li', { hasText: 'Ben' }).count()) === 0);
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
