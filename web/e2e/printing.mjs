// On paper: the round with every stop and a box for each task, black on white from the dark look too,
// nothing of the frame; and what is folded on other pages stands open.
import { mkdirSync } from 'node:fs';
import { check, kDesk, kShots, open_page, open_server, shot, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  mkdirSync(kShots, { recursive: true });
  const page = await open_page(browser, server, { ...kDesk, colorScheme: 'dark' });
  await page.waitForSelector('[data-open]');
  await page.emulateMedia({ media: 'print' });
  const look = await page.evaluate(() => ({
    ground: getComputedStyle(document.documentElement).backgroundColor,
    ink: getComputedStyle(document.querySelector('h1')).color,
    places: [...document.querySelectorAll('nav, header.screen-only, .side, .all')].filter((one) => one.getClientRects().length > 0).length,
    boxes: [...document.querySelectorAll('[data-state="due"] .box')].filter((one) => one.getClientRects().length > 0).length,
    tasks: document.querySelectorAll('[data-state="due"]').length,
    size_px: parseFloat(getComputedStyle(document.querySelector('.words strong')).fontSize),
  }));
  check(look.ground === 'rgb(255, 255, 255)' && look.ink === 'rgb(0, 0, 0)', 'black on white', look);
  check(look.places === 0, 'without places and buttons', look);
  check(look.boxes === look.tasks && look.boxes > 10, 'a box for each task', look);
  check(look.size_px >= 16, 'large enough for a wall', look);
  const { round } = await (await fetch(`${server.url}/api/round`)).json();
  const paper = (await page.locator('main').innerText()).toLowerCase();
  const on_it = (words) => paper.includes(words.toLowerCase());
  const missing = round.filter((stop) => !on_it(stop.title) || stop.tasks.some((task) => !on_it(task.title)));
  check(round.length > 5 && missing.length === 0, `all ${round.length} stops are on it, with all their tasks`, missing.map((stop) => stop.title));
  await to_pdf(page, 'round');
  await unfolded(page, 'the cautions too', page.locator('.cautions p').first());
  await shot(page, 'print', true);

  for (const [name, place, folded] of [
    ['enclosure', 'enclosure/skink-table', 'thermostat-skink'],
    ['animal', 'animal/moss', 'About'],
  ]) {
    await page.emulateMedia({ media: 'screen' });
    await page.goto(`${server.url}/#/${place}`);
    await page.waitForSelector('main canvas');
    await page.emulateMedia({ media: 'print' });
    await to_pdf(page, name);
    await unfolded(page, `${name}: what is folded is on paper`, page.locator('main').getByText(folded).last());
    await until(`${name}: nothing stays folded`, async () => (await page.locator('main details[data-print]:not([open])').count()) === 0);
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    await until(`${name}: it is folded again after it`, async () => (await page.locator('main details[data-print]:not([open])').count()) > 0);
  }
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}

/** As the browser does before it prints; page.pdf() folds again at its end. */
async function unfolded(page, words, what) {
  const chart_px = await page.evaluate(async () => {
    dispatchEvent(new Event('beforeprint'));
    // The chart is laid out at the end of this turn, before the browser draws.
    for (let n = 0; n < 5; ++n) await null;
    return document.querySelector('.u-wrap')?.offsetWidth ?? null;
  });
  // A4 less its margins is 688 px; what is wider would be cut off, and that is the newest of it.
  if (chart_px !== null) check(chart_px > 300 && chart_px < 688, 'the chart fits on paper at once', chart_px);
  await until(words, () => what.isVisible());
}

async function to_pdf(page, name) {
  const pdf = await page.pdf({ path: `${kShots}${name}.pdf`, format: 'A4' });
  const pages = pdf.toString('latin1').match(/\/Type \/Page\b/g)?.length ?? 0;
  check(pages >= 1, `${name}: a PDF of ${pages} pages`);
}
