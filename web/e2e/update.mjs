// A newer version of the app while entries wait: it asks, opens, and loses none.
import { check, check_axe, kPhone, open_faulty_server, open_page, shot, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_faulty_server();
  const page = await open_page(browser, server, kPhone);
  await page.waitForSelector('[data-open]');
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  server.fail('api_down');
  await page.locator('[data-state="due"] .tap', { hasText: 'fresh water' }).first().tap();
  const waits = async () => (await page.locator('header').textContent()).includes('1 waiting');
  await until('one waits', waits);
  server.newer();
  await page.evaluate(() => navigator.serviceWorker.getRegistration().then((one) => one.update()));
  await page.getByText('A newer version of this app is here.').waitFor();
  await check_axe(page, 'the line that asks', { aaa: true });
  await shot(page, 'update-asks');
  check(await waits(), 'it still waits while the newer version asks');
  await Promise.all([page.waitForEvent('load'), page.getByRole('button', { name: 'Open it' }).tap()]);
  await page.waitForSelector('[data-open]');
  await until('it waits after the newer version has opened', waits);
  server.fail();
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await until('and is sent once', async () => (await server.stored()).length === 1);
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
