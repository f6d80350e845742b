// Every page in light and dark, on a phone, a narrow phone and a desk: nothing that axe finds, nothing
// too small to tap, nothing wider than the screen. Takes the pictures that are looked at by eye.
import { axe, check, kDesk, kNarrow, kPhone, open_page, open_server, shot, tight_spots } from './harness.mjs';

const kPlaces = ['round', 'more', 'about', 'waiting', 'animals', 'animal/juniper', 'animal/garnet', 'enclosure/skink-table', 'room'];
// What these pages show is on the screen once this is there.
const kShown = { 'animals': 'main li a', 'animal': 'main canvas', 'enclosure': 'main canvas', 'room': 'main li a' };
const kSizes = { phone: kPhone, narrow: kNarrow, desk: kDesk };

export async function run(browser) {
  const server = await open_server();
  for (const [size, look] of Object.entries(kSizes)) {
    for (const colorScheme of ['light', 'dark']) {
      const page = await open_page(browser, server, { ...look, colorScheme });
      for (const place of kPlaces) {
        await page.goto(`${server.url}/#/${place}`);
        await page.waitForSelector('h1');
        if (place === 'round') await page.waitForSelector('.card [data-state]');
        const shown = kShown[place.split('/')[0]];
        if (shown) await page.waitForSelector(shown);
        const name = `${place.replace('/', '-')}-${size}-${colorScheme}`;
        const found = await axe(page, place === 'round');
        check(found.length === 0, `${name}: axe`, found);
        const tight = await tight_spots(page);
        check(tight.length === 0, `${name}: sizes`, tight);
        await shot(page, name);
        if ((place === 'round' && size !== 'desk') || shown) await shot(page, `${name}-full`, true);
      }
      check(page.errors.length === 0, `${size} ${colorScheme}: no errors`, page.errors);
      await page.context().close();
    }
  }
  const bare = await open_server({ empty: true });
  if (bare.is_mock) {
    const page = await open_page(browser, bare, kPhone);
    await page.getByText('No animals yet').waitFor();
    check((await axe(page, true)).length === 0, 'an empty room: axe');
    await shot(page, 'round-empty');
  }
  await bare.close();
  await server.close();
}
