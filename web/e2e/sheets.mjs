// Every sheet and question, in light and dark, on a phone, a narrow phone and a desk: nothing that axe
// finds, nothing too small or too wide, and Escape closes it and gives the focus back.
import { check, check_axe, is_looked_at, kDesk, kNarrow, kPhone, open_server, shot, tight_spots } from './harness.mjs';
import { kAda, kCleo, phone_of } from './sign_in.mjs';

const button = (name) => (page) => page.getByRole('button', { name }).first();
const more_for = (words) => (page) => page.getByRole('button', { name: new RegExp(`^More for: ${words}`) }).first();

// Name, place, what opens it.
const kSheets = [
  ['weighing', 'round', more_for('weigh')],
  ['meal', 'round', more_for('feed')],
  ['water', 'round', more_for('fresh water')],
  ['uv-reading', 'round', more_for('.*UV')],
  ['weigh', 'animal/moss', button('Weigh')],
  ['fed', 'animal/moss', button('Fed')],
  ['shed', 'animal/moss', button('Shed')],
  ['note', 'animal/moss', button('Note')],
  ['own-value', 'animal/moss', button(/^Set own value/)],
  ['write', 'notebook', button('Write an entry')],
  ['strike', 'notebook', button(/^Strike/)],
  ['take-out-record', 'setup/animal?record=juniper', button('Take it out')],
  ['take-out-person', 'people', button(/^Take out ?: Cleo/)],
  ['sign-out', 'more', button('Sign out')],
];

export async function run(browser) {
  const server = await open_server({ people: [kAda, kCleo] });
  const page = await phone_of(browser, server, kAda);
  for (const [name, place, opener] of kSheets) {
    await page.setViewportSize(kPhone.viewport);
    await page.goto(`${server.url}/#/${place}`);
    const opens = opener(page);
    await opens.or(page.locator('main details').first()).first().waitFor();
    if ((await opens.count()) === 0) await page.locator('main').evaluate((main) => main.querySelectorAll('details').forEach((one) => (one.open = true)));
    await opens.click();
    const sheet = page.locator('dialog[open]');
    await sheet.waitFor();
    for (const [size, { viewport }] of Object.entries({ phone: kPhone, narrow: kNarrow, desk: kDesk })) {
      await page.setViewportSize(viewport);
      for (const colorScheme of ['light', 'dark']) {
        await page.emulateMedia({ colorScheme });
        await check_axe(page, `${name}, ${size}, ${colorScheme}`, { aaa: true, colours: colorScheme === 'dark' });
        const tight = await tight_spots(page);
        check(tight.length === 0, `${name}, ${size}, ${colorScheme}: sizes`, tight);
        if (is_looked_at(size, colorScheme)) await shot(page, `sheet-${name}-${size}-${colorScheme}`);
      }
    }
    await page.setViewportSize(kPhone.viewport);
    await page.keyboard.press('Escape');
    await sheet.waitFor({ state: 'detached' });
    check(await opens.evaluate((one) => one === document.activeElement), `${name}: Escape closes it and gives the focus back`);
  }
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
