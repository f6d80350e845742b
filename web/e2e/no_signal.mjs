// Without a server: the app opens, twenty entries are written, a reload loses none, and when the server
// is back each is stored once, in the order of writing.
import { check, counted, kPhone, open_page, open_server, seen, shot, until } from './harness.mjs';

const kTaps = 20;
// What is done by one tap, and the kind under which the notebook has it (docs/notebook.md).
const kKinds = [[/fresh water/, 'watered'], [/spot clean/, 'spot_cleaned'], [/: mist/, 'misted'], [/: feed/, 'fed'], [/Drain/, 'done']];

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, kPhone);
  const header = () => page.locator('header').textContent();
  await page.waitForSelector('[data-open]');
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);

  await server.down();
  const tapped = [];
  const kWithoutSheet = new RegExp(kKinds.map(([words]) => words.source).join('|'));
  const rows = page.locator('li[data-state="due"]', { has: page.locator('.tap'), hasText: kWithoutSheet });
  for (let n = 0; n < kTaps; ++n) {
    const row = rows.first();
    const words = await row.locator('.tap').textContent();
    tapped.push(kKinds.find(([one]) => one.test(words))[1]);
    const [task, stop] = await row.evaluate((one) => [one.dataset.task, one.closest('.card').id]);
    await row.locator('.tap').tap();
    await until(`${n + 1} ${n === 0 ? 'waits' : 'wait'}`, async () => (await header()).includes(`${n + 1} waiting on this phone`));
    await counted('and shows it', page.locator(`[data-state="due"][data-task="${task}"]`), 0);
    // After the last task of a stop the page is deaf for 400 ms (kSlide_ms of Round.svelte): the next stop
    // slides under the thumb.
    if ((await page.locator(`[id="${stop}"]`).getAttribute('data-open')) === '0') await page.waitForTimeout(450);
  }
  await until('it says that the server cannot be reached', async () => (await header()).includes('Not reachable'));
  await shot(page, 'no-signal');
  await page.reload();
  await page.waitForSelector('[data-open]');
  await until('after a reload without a server 20 wait', async () => (await header()).includes('20 waiting on this phone'));
  await seen('it says from when the round is', page.getByText(/^As of .*, not reachable$/));
  check((await page.locator('[data-state="waiting"]').count()) >= kTaps, 'and the ticked tasks are shown as saved on this phone');
  await page.evaluate(() => scrollTo(0, 0));
  await shot(page, 'no-signal-reloaded');
  await page.goto(`${server.url}/#/waiting`);
  await page.getByRole('heading', { name: 'Waiting on this phone' }).waitFor();
  await counted('the list of what waits has 20', page.locator('main ol li'), kTaps);
  await shot(page, 'waiting-20');

  await server.up();
  check((await server.stored()).length === 0, 'the book has none of them');
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await until('all are sent when the server is back', async () => (await header()).includes('All sent'), 60_000);
  const stored = await server.stored();
  check(stored.length === kTaps && new Set(stored.map((one) => one.id)).size === kTaps, 'each is stored once', stored.length);
  const kinds = stored.map((one) => one.kind);
  check(kinds.join() === tapped.join(), 'in the order in which they were tapped', { kinds, tapped });
  check(stored.every((one, i) => i === 0 || stored[i - 1].at < one.at), 'each at its own time');
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
