// An enclosure's page: ranges with their standing, maps with key, words and table, the day, readings,
// equipment, UV lamps where the program knows them.
import { check, check_axe, counted, kNarrow, kPhone, open_page, open_server, seen, shot, tight_spots, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, kPhone, '#/enclosure/skink-table');
  await page.waitForSelector('main canvas');
  const told = await (await fetch(`${server.url}/api/enclosures/skink-table`)).json();
  check((await page.locator('.standing').count()) === told.climate.places.length, 'each place has its standing');
  for (const one of told.climate.places) check((await page.getByText(one.wanted).count()) > 0, `${one.place}: the range is shown`);
  await maps(page, server);
  await parts(page, told);
  check(page.errors.length === 0, 'no errors', page.errors);
  await page.context().close();
  await from_the_room(browser, server);
  await server.close();
}

async function maps(page, server) {
  const told = await (await fetch(`${server.url}/api/enclosures/skink-table/maps`)).json();
  const map = page.getByRole('img', { name: /^Floor, seen from above: from [\d.]+ °C to [\d.]+ °C/ });
  check(await map.isVisible(), 'the map has a text name');
  const canvas = await page.locator('main canvas').last().evaluate((one) => {
    const pixels = one.getContext('2d').getImageData(0, 0, one.width, one.height).data;
    const seen = new Set();
    for (let i = 0; i < pixels.length; i += 40) seen.add(`${pixels[i]} ${pixels[i + 1]} ${pixels[i + 2]}`);
    return { shape: one.clientWidth / one.clientHeight, colours: seen.size };
  });
  // 150 cm by 60 cm; a pixel of rounding.
  check(Math.abs(canvas.shape - 150 / 60) < 0.06, 'and the shape of the floor', canvas);
  check(canvas.colours >= 4, 'and steps', canvas);
  check((await page.locator('ol.marks li').count()) === told.plan_marks.length, 'every mark is told by its number');
  await seen('what is wanted is told in words', page.getByText('Dashed lines: the edges of what is preferred'));
  await read_out(page, told.heat_plan);
  await page.locator('summary', { hasText: 'The map as a table' }).click();
  await counted('the map is a table too', page.locator('table tbody tr'), 3);
  await check_axe(page, 'the table open');
  await page.getByLabel('Heat, from the front').check();
  await seen('the section can be chosen', page.getByRole('img', { name: /^Section, seen from the front/ }));
  await seen('which is read from the floor', page.getByLabel('From the floor'));
  await page.locator('summary', { hasText: 'The day as a table' }).click();
  await counted('the day is a table of 24 hours', page.getByRole('region', { name: 'A settled day' }).locator('tbody tr'), 24);
}

/** A place of the map by finger and by keyboard, against the server's own value there. */
async function read_out(page, grid) {
  const canvas = page.locator('main canvas').first();
  await canvas.scrollIntoViewIfNeeded();
  const box = await canvas.boundingBox();
  // The middle of a rectangle: there the map has the rectangle's own value.
  const columns = grid.x_edges_m.length - 1;
  const rows = grid.y_edges_m.length - 1;
  const [i, j] = [Math.floor(columns / 4), Math.floor(rows / 3)];
  const middle = (edges, k) => (edges[k] + edges[k + 1]) / 2;
  const value = grid.values[j * columns + i];
  const right = middle(grid.x_edges_m, i) / grid.x_edges_m[columns];
  const up = middle(grid.y_edges_m, j) / grid.y_edges_m[rows];
  await page.touchscreen.tap(box.x + right * box.width, box.y + (1 - up) * box.height);
  const told = page.locator('main p', { hasText: / from the left, .* from the front/ });
  await told.waitFor();
  const shown = parseFloat(await told.textContent());
  // A finger is on whole pixels: so far apart are the values of the rectangles round it, at most.
  const around = [value, grid.values[j * columns + i + 1], grid.values[j * columns + i - 1], grid.values[(j + 1) * columns + i], grid.values[(j - 1) * columns + i]];
  check(shown >= Math.min(...around) - 0.05 && shown <= Math.max(...around) + 0.05, 'touched, the map tells the value there', { shown, around });
  await shot(page, 'enclosure-read-out');
  const slider = page.getByLabel('From the left');
  await slider.focus();
  await page.keyboard.press('Home');
  await until('by keyboard too: the left edge', async () => /^[\d.]+ °C at 0 cm from the left/.test((await told.textContent()).trim()));
  await page.keyboard.press('ArrowRight');
  await until('a step is a centimetre', async () => /at 1 cm from the left/.test(await told.textContent()));
  check(/^1 cm: [\d.]+ °C$/.test(await slider.getAttribute('aria-valuetext')), 'and a screen reader hears the value', await slider.getAttribute('aria-valuetext'));
}

async function parts(page, told) {
  for (const part of ['Readings', 'Work here', 'Equipment', 'Lately', 'About it']) {
    await page.locator('summary', { hasText: part }).click();
  }
  await seen('readings are shown', page.getByText('reading, warm side'));
  await seen('and what felt them', page.getByText('thermostat-skink'));
  for (const one of told.equipment) await seen(`equipment: ${one.id}`, page.getByText(one.id, { exact: true }));
  if (told.uv) {
    await page.locator('summary', { hasText: 'UV lamps' }).click();
    await seen('UV at the basking place, with its band', page.getByText(/At the basking place UV index [\d.]+ \(/));
    await seen('when to replace the lamp', page.getByText(/Replace about/));
    await seen('with the caution', page.getByText('Never look into a UV lamp.').last());
  }
  await shot(page, 'enclosure-open', true);
  await check_axe(page, 'with all open');
  const tight = await tight_spots(page);
  check(tight.length === 0, 'nothing too small or too wide', tight);
}

async function from_the_room(browser, server) {
  const page = await open_page(browser, server, { ...kNarrow, colorScheme: 'dark' }, '#/enclosure/cold-box');
  await page.getByRole('heading', { name: 'Cold box' }).waitFor();
  await page.waitForSelector('main canvas');
  const tight = await tight_spots(page);
  check(tight.length === 0, 'at 320 px nothing is too small or too wide', tight);
  await check_axe(page, 'in the dark');
  await page.getByRole('link', { name: 'Thistle' }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Thistle', exact: true }).waitFor();
  check(true, 'a key leads to who lives there');
  check(page.errors.length === 0, 'no errors', page.errors);
  await page.context().close();
}
