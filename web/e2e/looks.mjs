// Every page in light and dark, on a phone, a narrow phone and a desk: nothing that axe finds, nothing
// too small to tap, nothing wider than the screen. Takes the pictures that are looked at by eye. The pages
// of notebook, trace, rota, set-up and people are looked at by their own modules, with more on them.
import { check_axe, kPhone, look_at, open_page, open_server, shot } from './harness.mjs';

// Name, place, what is on the screen once it is whole.
const kPlaces = [
  ['round', 'round', '.card [data-state]', { aaa: true }],
  ['animals', 'animals', 'main li a'],
  ['animal-juniper', 'animal/juniper', 'main canvas'],
  ['animal-garnet', 'animal/garnet', 'main canvas'],
  ['enclosure-skink-table', 'enclosure/skink-table', 'main canvas'],
  ['enclosure-tortoise-table', 'enclosure/tortoise-table', 'main details'], // of which the climate is not known
  ['room', 'room', 'main li a'],
  ['more', 'more', 'h1'],
  ['about', 'about', 'h1'],
  ['waiting', 'waiting', 'h1'],
];

export async function run(browser) {
  const server = await open_server();
  await look_at(browser, server, kPlaces);
  await server.close();
  const bare = await open_server({ empty: true });
  const page = await open_page(browser, bare, kPhone);
  await page.getByText('No animals yet').waitFor();
  await check_axe(page, 'an empty room', { aaa: true });
  await shot(page, 'round-empty');
  await bare.close();
}
