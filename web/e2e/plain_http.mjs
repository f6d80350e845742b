// Over plain http by another name than localhost, as a phone on the home network sees it: no worker, no
// locks between tabs, but everything else; and a line that says so.
import { check, check_axe, kPhone, open_browser, open_page, open_server, shot, until } from './harness.mjs';

export async function run() {
  const server = await open_server({ name: 'room.home' });
  const browser = await open_browser(['--host-resolver-rules=MAP room.home 127.0.0.1']);
  const page = await open_page(browser, { url: server.url.replace('127.0.0.1', 'room.home') }, kPhone);
  await page.waitForSelector('[data-open]');
  const bare = await page.evaluate(() => [isSecureContext, 'serviceWorker' in navigator, 'locks' in navigator]);
  check(bare.every((one) => one === false), 'the browser gives no worker and no locks', bare);
  await page.getByRole('link', { name: 'How to change that' }).waitFor();
  await check_axe(page, 'the line that says so', { aaa: true });
  await shot(page, 'plain-http');
  const other = await page.context().newPage();
  await other.goto(page.url());
  await other.waitForSelector('[data-open]');
  await server.down();
  const tap = (one, n) => one.locator('[data-state="due"] .tap', { hasText: /fresh water|spot clean/ }).nth(n).tap();
  await tap(page, 0);
  await page.waitForTimeout(450);
  await tap(other, 3);
  await until('what two pages wrote waits', async () => (await page.locator('header').textContent()).includes('2 waiting'));
  await server.up();
  await Promise.all([page, other].map((one) => one.evaluate(() => dispatchEvent(new Event('online')))));
  await until('and is sent', async () => (await server.stored()).length === 2, 45_000);
  await until('both pages say so', async () => (await page.locator('header').textContent()).includes('All sent') && (await other.locator('header').textContent()).includes('All sent'), 45_000);
  const ids = (await server.stored()).map((one) => one.id);
  check(new Set(ids).size === 2, 'two entries, each once in the book', ids);
  // The browser remarks that it ignores a header of the server here; nothing depends on it.
  const errors = page.errors.filter((one) => !one.startsWith('The Cross-Origin-Opener-Policy header has been ignored'));
  check(errors.length === 0, 'no errors', errors);
  await browser.close();
  await server.close();
}
