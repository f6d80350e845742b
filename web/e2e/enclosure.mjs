// An enclosure's page: ranges with their standing, maps with key, words and table, the day, readings,
// equipment, UV lamps where the program knows them.
import { axe, check, kNarrow, kPhone, open_page, open_server, shot, tight_spots } from './harness.mjs';

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
  check(await page.getByText('Dashed lines: the edges of what is preferred').isVisible(), 'what is wanted is told in words');
  await page.locator('summary', { hasText: 'The map as a table' }).click();
  check((await page.locator('table tbody tr').count()) === 3, 'the map is a table too');
  check((await axe(page)).length === 0, 'axe with the table open', await axe(page));
  await page.getByLabel('Heat, from the front').check();
  await page.getByRole('img', { name: /^Section, seen from the front/ }).waitFor();
  check(true, 'the section can be chosen');
  await page.locator('summary', { hasText: 'The day as a table' }).click();
  check((await page.locator('table').last().locator('tbody tr').count()) === 24, 'the day is a table of 24 hours');
}

async function parts(page, told) {
  for (const part of ['Readings', 'Work here', 'Equipment', 'Lately', 'About it']) {
    await page.locator('summary', { hasText: part }).click();
  }
  check((await page.getByText('reading, warm side').count()) > 0, 'readings are shown');
  check((await page.getByText('thermostat-skink').count()) > 0, 'and what felt them');
  for (const one of told.equipment) check((await page.getByText(one.id, { exact: true }).count()) > 0, `equipment: ${one.id}`);
  if (told.uv) {
    await page.locator('summary', { hasText: 'UV lamps' }).click();
    check((await page.getByText(/At the basking place UV index [\d.]+ \(/).count()) > 0, 'UV at the basking place, with its band');
    check((await page.getByText(/Replace about/).count()) > 0, 'when to replace the lamp');
    check(await page.getByText('Never look into a UV lamp.').last().isVisible(), 'with the caution');
  }
  await shot(page, 'enclosure-open', true);
  check((await axe(page)).length === 0, 'axe with all open', await axe(page));
  const tight = await tight_spots(page);
  check(tight.length === 0, 'nothing too small or too wide', tight);
}

async function from_the_room(browser, server) {
  const page = await open_page(browser, server, { ...kNarrow, colorScheme: 'dark' }, '#/enclosure/cold-box');
  await page.getByRole('heading', { name: 'Cold box' }).waitFor();
  await page.waitForSelector('main canvas');
  const tight = await tight_spots(page);
  check(tight.length === 0, 'at 320 px nothing is too small or too wide', tight);
  check((await axe(page)).length === 0, 'axe in the dark', await axe(page));
  await page.getByRole('link', { name: 'Thistle' }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Thistle', exact: true }).waitFor();
  check(true, 'a key leads to who lives there');
  check(page.errors.length === 0, 'no errors', page.errors);
  await page.context().close();
}
