// What every end-to-end module needs: a server with a room of its own, pages as phones and desks, and
// words for what held and what failed.
import { AsyncLocalStorage } from 'node:async_hooks';
import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { open_faulty_line } from './faulty_line.mjs';
import { start_real } from './real_server.mjs';

export const kPhone = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true };
export const kNarrow = { ...kPhone, viewport: { width: 320, height: 640 } };
export const kDesk = { viewport: { width: 1280, height: 900 } };

export const kShots = fileURLToPath(new URL('./shots/', import.meta.url));
const axe_source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export async function open_browser(more = []) {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium-headless-shell', // a quarter of the work of the whole browser
    args: ['--no-sandbox', '--disable-dev-shm-usage', ...more],
  });
}

/** `warmside serve` for one module, with a room of its own. Options: start_real. */
export async function open_server(options = {}) {
  return start_real(options);
}

/** The same over a line that can be told to fail, with `fail` and `newer` of faulty_line.mjs. */
export async function open_faulty_server(options = {}) {
  const server = await start_real(options);
  const line = await open_faulty_line(server.url);
  return { ...server, ...line, close: () => (line.close(), server.close()) };
}

/**
 * Looks at places in light and dark, on a phone, a narrow phone and a desk. A place: [name, address, what
 * to wait for, {aaa}]; `aaa`: enhanced contrast. Takes pictures of the whole pages.
 */
export async function look_at(browser, server, places) {
  for (const [size, look] of Object.entries({ phone: kPhone, narrow: kNarrow, desk: kDesk })) {
    const page = await open_page(browser, server, { ...look, deviceScaleFactor: 1 }, '#/about');
    for (const [name, address, wait_for, { aaa = false } = {}] of places) {
      await page.goto(`${server.url}/#/${address}`);
      await page.locator(wait_for).first().waitFor();
      const tight = await tight_spots(page);
      check(tight.length === 0, `${name}-${size}: sizes`, tight);
      for (const colorScheme of ['light', 'dark']) {
        await page.emulateMedia({ colorScheme });
        await check_axe(page, `${name}-${size}-${colorScheme}`, { aaa, colours: colorScheme === 'dark' });
        if (is_looked_at(size, colorScheme)) await shot(page, `${name}-${size}-${colorScheme}`, true);
      }
    }
    check(page.errors.length === 0, `${size}: no errors`, page.errors);
    await page.context().close();
  }
}

/** Which looks are kept as pictures. */
export function is_looked_at(size, colorScheme) {
  return size === 'phone' || (size === 'narrow') === (colorScheme === 'dark');
}

/** A page that fails the module on any error of its own: a script's, or one of the page rules. */
export async function open_page(browser, server, look = kPhone, place = '#/round') {
  const context = await browser.newContext({ ...look, reducedMotion: 'reduce', timezoneId: 'Europe/Oslo', locale: 'en-GB' });
  const page = await context.newPage();
  const errors = [];
  page.on('pageerror', (error) => errors.push(String(error)));
  page.on('console', (message) => {
    const text = message.text();
    if (message.type() === 'error' && !/Failed to load resource|net::ERR/.test(text)) errors.push(text);
  });
  page.errors = errors;
  await page.goto(`${server.url}/${place}`);
  return page;
}

export async function shot(page, name, full = false) {
  mkdirSync(kShots, { recursive: true });
  await page.screenshot({ path: `${kShots}${name}.png`, fullPage: full });
}

const kAll = { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] };
// What depends on colours alone; the rest was asked in the other look of the same page.
const kColours = { type: 'rule', values: ['color-contrast', 'color-contrast-enhanced', 'link-in-text-block'] };

/** What is off the screen is judged like the rest. */
async function lay_out_all(page) {
  await page.evaluate(() => document.querySelectorAll('.card, .card li').forEach((part) => { part.style.contentVisibility = 'visible'; }));
}

/**
 * axe finds nothing against WCAG 2.2 A and AA and common practice; `aaa`: with enhanced contrast; `colours`:
 * only what depends on colours.
 */
export async function check_axe(page, words, { aaa = false, colours = false } = {}) {
  await lay_out_all(page);
  await page.evaluate(axe_source);
  const found = await page.evaluate(
    async ([runOnly, enhanced]) => {
      const report = await window.axe.run(document, { runOnly, rules: { 'color-contrast-enhanced': { enabled: enhanced } }, resultTypes: ['violations'] });
      return report.violations.map((one) => `${one.id}: ${one.nodes.map((node) => `${node.target} ${node.failureSummary}`).slice(0, 3).join(' | ')}`);
    },
    [colours ? kColours : kAll, aaa],
  );
  check(found.length === 0, `${words}: axe`, found);
}

/** Boxes smaller than 48 px that can be tapped, and whether the page is wider than the screen. */
export async function tight_spots(page) {
  await lay_out_all(page);
  return page.evaluate(() => {
    const faults = [];
    if (document.documentElement.scrollWidth > innerWidth) faults.push(`wider than the screen: ${document.documentElement.scrollWidth}`);
    for (const one of document.querySelectorAll('main button, main summary, nav a, header a, dialog button, dialog summary, dialog select')) {
      const box = one.getBoundingClientRect();
      if (box.width > 0 && (box.height < 47.5 || box.width < 47.5)) {
        faults.push(`${Math.round(box.width)} x ${Math.round(box.height)}: ${one.textContent.trim().slice(0, 40)}`);
      }
    }
    return faults;
  });
}

// Several modules run at a time; each has its own lines.
const kTold = new AsyncLocalStorage();

const kPatience_ms = 150_000; // of a module; three times what the longest takes

function within(patience_ms, work) {
  let timer;
  const too_long = new Promise((_, fail) => {
    timer = setTimeout(() => fail(new Error(`it took more than ${patience_ms / 1000} s`)), patience_ms);
  });
  return Promise.race([work, too_long]).finally(() => clearTimeout(timer));
}

/** Runs one module; its lines, and how many checks held and failed. */
export async function run_module(name, run) {
  const told = { lines: [], held: 0, failed: 0 };
  await kTold.run(told, async () => {
    try {
      await within(kPatience_ms, run());
    } catch (failure) {
      check(false, `${name} broke off`, String(failure.stack ?? failure));
    }
    if (told.held + told.failed === 0) check(false, `${name} checked nothing`);
  });
  return told;
}

export function say(words) {
  kTold.getStore().lines.push(`  ${words}`);
}

export function check(holds, words, seen = '') {
  const told = kTold.getStore();
  say(`${holds ? 'ok  ' : 'FAIL'} ${words}${holds ? '' : `   ${typeof seen === 'string' ? seen : JSON.stringify(seen)}`}`);
  if (holds) ++told.held;
  else ++told.failed;
}

/** What needs a moment: asked again until it holds. */
export async function until(words, holds, patience_ms = 20_000) {
  const end = Date.now() + patience_ms;
  while (Date.now() < end) {
    if (await holds()) return check(true, words);
    await new Promise((done) => setTimeout(done, 50));
  }
  check(false, words, 'it did not come to that in time');
}

/** Whether something comes to be seen. */
export async function seen(words, locator) {
  await until(words, () => locator.first().isVisible());
}

/** Whether there come to be so many of something. */
export async function counted(words, locator, count) {
  await until(words, async () => (await locator.count()) === count);
}
