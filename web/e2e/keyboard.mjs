// Everything by keyboard: the skip link, a finding, a task, its sheet, undo; the focus is always seen.
import { check, kDesk, open_page, open_server, shot, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, kDesk);
  await page.waitForSelector('[data-open]');
  const focused = () => page.evaluate(() => document.activeElement?.textContent?.trim().replace(/\s+/g, ' ') ?? '');
  const press_until = async (words, most = 150) => {
    for (let n = 0; n < most; ++n) {
      if (words.test(await focused())) return true;
      await page.keyboard.press('Tab');
    }
    return false;
  };
  await page.keyboard.press('Tab');
  check(/^Go to the page/.test(await focused()), 'the first stop is the way past the places', await focused());
  await page.keyboard.press('Enter');
  check(await press_until(/^The heat mat in Quarantine/), 'a finding is reached');
  await page.keyboard.press('Enter');
  await page.getByText('Unplug it, or put a thermostat before it').waitFor();
  check(await press_until(/fresh water/), 'a task is reached');
  const outline = await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle);
  check(outline === 'solid', 'the focus is seen', outline);
  await shot(page, 'keyboard-focus');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await page.locator('dialog[open]').waitFor();
  await page.keyboard.press('Escape');
  await page.locator('dialog').waitFor({ state: 'detached' });
  check(/^More for: fresh water/.test(await focused()), 'the sheet gives the focus back', await focused());
  await page.keyboard.press('Shift+Tab');
  await page.keyboard.press('Space');
  await until('a task is done by the space bar', async () => (await server.stored()).length === 1);
  await until('the focus is not lost', async () => (await page.evaluate(() => document.activeElement !== document.body)));
  check(await press_until(/^Undo/), 'undo is reached');
  await page.keyboard.press('Enter');
  await until('and strikes it', async () => (await server.stored()).length === 2);
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
