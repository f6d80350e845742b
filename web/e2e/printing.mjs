// The printed round: black on white from the dark look too, a box for each task, nothing of the frame.
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { check, kDesk, open_page, open_server, shot } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, { ...kDesk, colorScheme: 'dark' });
  await page.waitForSelector('[data-open]');
  await page.emulateMedia({ media: 'print' });
  const seen = await page.evaluate(() => ({
    ground: getComputedStyle(document.documentElement).backgroundColor,
    ink: getComputedStyle(document.querySelector('h1')).color,
    places: [...document.querySelectorAll('nav, header.screen-only, .side, .all')].filter((one) => one.getClientRects().length > 0).length,
    boxes: [...document.querySelectorAll('[data-state="due"] .box')].filter((one) => one.getClientRects().length > 0).length,
    tasks: document.querySelectorAll('[data-state="due"]').length,
    size_px: parseFloat(getComputedStyle(document.querySelector('.words strong')).fontSize),
  }));
  check(seen.ground === 'rgb(255, 255, 255)' && seen.ink === 'rgb(0, 0, 0)', 'black on white', seen);
  check(seen.places === 0, 'without places and buttons', seen);
  check(seen.boxes === seen.tasks && seen.boxes > 10, 'a box for each task', seen);
  check(seen.size_px >= 16, 'large enough for a wall', seen);
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  check((await page.locator('.cautions p').first().isVisible()), 'with the cautions');
  check((await page.locator('details[data-when]:not([open])').count()) === 0, 'and every headline');
  const folder = fileURLToPath(new URL('./shots/', import.meta.url));
  mkdirSync(folder, { recursive: true });
  const pdf = await page.pdf({ path: `${folder}round.pdf`, format: 'A4' });
  check(pdf.subarray(0, 5).toString() === '%PDF-', 'a PDF');
  await shot(page, 'print', true);
  await server.close();
}
