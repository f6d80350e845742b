// What every end-to-end module needs: a browser, pages as phones and desks, a server, and words for
// what failed. The server is the stand-in; with WARMSIDE_SERVE=path/to/warmside it is the real one, and
// the modules that need faults are left out.
import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { start_mock } from './mock_server.mjs';
import { start_real } from './real_server.mjs';

export const kPhone = { viewport: { width: 390, height: 844 }, deviceScaleFactor: 2, hasTouch: true, isMobile: true };
export const kNarrow = { ...kPhone, viewport: { width: 320, height: 640 } };
export const kDesk = { viewport: { width: 1280, height: 900 } };

const shots = fileURLToPath(new URL('./shots/', import.meta.url));
const axe_source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export async function open_browser(more = []) {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-dev-shm-usage', ...more],
  });
}

/** A server for one module, with a room of its own. */
export async function open_server(options = {}) {
  const real = process.env.WARMSIDE_SERVE;
  if (real) return { is_mock: false, ...(await start_real(real)) };
  const mock = await start_mock(options);
  const post = (path, body) =>
    fetch(mock.url + path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
  return {
    url: mock.url,
    close: mock.close,
    is_mock: true,
    faults: (...faults) => post('/mock/faults', { faults }),
    newer: () => post('/mock/newer', {}),
    stored: async () => (await fetch(`${mock.url}/mock/stored`)).json(),
  };
}

/**
 * The real server, for pages whose answers the stand-in has not: WARMSIDE_SERVE, else WARMSIDE. null: the
 * program that was given cannot serve; the module is left out and says so.
 */
export async function open_real_server(options = {}) {
  const program = process.env.WARMSIDE_SERVE ?? process.env.WARMSIDE ?? fileURLToPath(new URL('../../build/release/warmside', import.meta.url));
  try {
    return { is_mock: false, ...(await start_real(program, options)) };
  } catch (failure) {
    // A program that has no server ends with "wrong usage".
    if (!/it ended at once/.test(String(failure))) throw failure;
    console.log('  left out: this warmside has no `serve`');
    return null;
  }
}

/** Looks at places in light and dark, on a phone, a narrow phone and a desk. A place: [name, address, what to wait for]. */
export async function look_at(browser, server, places) {
  for (const [size, look] of Object.entries({ phone: kPhone, narrow: kNarrow, desk: kDesk })) {
    for (const colorScheme of ['light', 'dark']) {
      const page = await open_page(browser, server, { ...look, colorScheme }, '#/about');
      for (const [name, address, wait_for] of places) {
        await page.goto(`${server.url}/#/${address}`);
        await page.locator(wait_for).first().waitFor();
        const found = await axe(page);
        check(found.length === 0, `${name}-${size}-${colorScheme}: axe`, found);
        const tight = await tight_spots(page);
        check(tight.length === 0, `${name}-${size}-${colorScheme}: sizes`, tight);
        await shot(page, `${name}-${size}-${colorScheme}`, true);
      }
      check(page.errors.length === 0, `${size} ${colorScheme}: no errors`, page.errors);
      await page.context().close();
    }
  }
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
  mkdirSync(shots, { recursive: true });
  await page.screenshot({ path: `${shots}${name}.png`, fullPage: full });
}

/** Violations of WCAG 2.2 A and AA and of common practice, as lines; `aaa`: with enhanced contrast. */
export async function axe(page, aaa = false) {
  await page.evaluate(axe_source);
  const found = await page.evaluate(async (enhanced) => {
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    const rules = enhanced ? { 'color-contrast-enhanced': { enabled: true } } : {};
    const report = await window.axe.run(document, { runOnly: { type: 'tag', values: tags }, rules });
    return report.violations.map((one) => `${one.id}: ${one.nodes.map((node) => `${node.target} ${node.failureSummary}`).slice(0, 3).join(' | ')}`);
  }, aaa);
  return found;
}

/** Boxes smaller than 48 px that can be tapped, and whether the page is wider than the screen. */
export async function tight_spots(page) {
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

let failures = 0;
export function check(holds, words, seen = '') {
  console.log(`  ${holds ? 'ok  ' : 'FAIL'} ${words}${holds ? '' : `   ${typeof seen === 'string' ? seen : JSON.stringify(seen)}`}`);
  if (!holds) ++failures;
}
export function failed() {
  return failures;
}

export async function until(words, holds, patience_ms = 15_000) {
  const end = Date.now() + patience_ms;
  while (Date.now() < end) {
    if (await holds()) return check(true, words);
    await new Promise((done) => setTimeout(done, 50));
  }
  check(false, words, 'it did not come to that in time');
}
