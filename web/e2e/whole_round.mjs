// The whole round by taps: each stop in at most three, nothing typed but numbers, undo at once and
// later, and at the end the book holds each entry once and lists nothing of it as due.
import { check, check_axe, kPhone, open_page, open_server, seen, shot, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, { ...kPhone, colorScheme: 'dark' });
  await page.waitForSelector('[data-open]');
  await shot(page, 'round-start');

  // One task: a tap, Undo in the row below, a tap again.
  const first = page.locator('[data-open] [data-state="due"] .tap').first();
  await first.tap();
  await page.getByText(/^Saved: /).waitFor();
  await shot(page, 'round-one-done');
  await check_axe(page, 'a row that is done, and the snack', { aaa: true });
  await page.getByRole('status').getByRole('button', { name: 'Undo' }).tap();
  await page.getByText(/^Taken back: /).waitFor();
  await until('undo makes the task due again', async () => (await page.locator('[data-open] [data-state]').first().getAttribute('data-state')) === 'due');
  await until('the entry and its strike are in the book', async () => (await server.stored()).length === 2);
  const [entry, strike] = (await server.stored());
  check(strike.kind === 'struck' && strike.strikes === entry.id, 'the strike names the entry', strike);

  // The rest, stop by stop.
  let most_taps = 0;
  const before = (await (await fetch(`${server.url}/api/round`)).json()).round.length;
  let stops = 0;
  for (; stops < 40; ++stops) {
    const stop = page.locator('ol > li.card:not([data-open="0"])').first();
    if ((await stop.count()) === 0) break;
    const title = await stop.locator('h3').textContent();
    const id = await stop.getAttribute('id');
    const same = page.locator(`[id="${id}"]`);
    let taps = 0;
    const all = same.getByRole('button', { name: /^All \d+ done here/ });
    // The page is deaf for 400 ms after a stop has folded (kSlide_ms of Round.svelte).
    await page.waitForTimeout(450);
    if ((await all.count()) > 0) {
      await all.tap();
      ++taps;
      await all.waitFor({ state: 'detached' });
    }
    const due = same.locator('[data-state="due"]');
    for (let left = await due.count(); left > 0; left = await due.count()) {
      await due.locator('.tap').first().tap();
      ++taps;
      const sheet = page.locator('dialog[open]');
      await page.waitForFunction(
        ([card, before]) => document.querySelector('dialog[open]') || document.getElementById(card).querySelectorAll('[data-state="due"]').length < before,
        [id, left],
      );
      if ((await sheet.count()) > 0) {
        if (taps < 3) await shot(page, 'round-sheet');
        const number = sheet.locator('input[inputmode="decimal"]');
        if ((await number.count()) > 0) await number.fill('2,4');
        await sheet.getByRole('button', { name: 'Save' }).tap();
        ++taps;
        await sheet.waitFor({ state: 'detached' });
      }
    }
    await until(`${title} is folded, ${taps} taps`, async () => (await same.getAttribute('data-open')) === '0');
    const asked = await same.locator('[data-state]').evaluateAll((rows) => rows.filter((row) => /weigh|UV|mites/.test(row.textContent)).length);
    most_taps = Math.max(most_taps, taps - 2 * asked);
  }
  check(stops === before && stops > 5, `every stop was done: ${stops}`, before);
  check(most_taps <= 3, 'no stop takes more than three taps beside numbers that are asked', most_taps);
  await page.getByText('All done for today.').waitFor();
  await until('all is sent', async () => (await page.locator('header').textContent()).includes('All sent'), 60_000);
  await page.evaluate(() => scrollTo(0, 0));
  await shot(page, 'round-all-done');
  await check_axe(page, 'a round that is done', { aaa: true });

  const stored = await server.stored();
  check(new Set(stored.map((one) => one.id)).size === stored.length, 'each entry is there once');
  const bare = stored.filter((one) => one.kind === 'fed' && one.text === 'fed').map((one) => one.subject);
  check(bare.length === 0, 'a tap on a meal writes its food too', bare);
  const still_due = (await (await fetch(`${server.url}/api/round`)).json()).round.flatMap((stop) => stop.tasks.map((task) => task.title));
  check(still_due.length === 0, 'the book lists nothing as due', still_due);

  // Undo any time, in the folded stop; it stays taken back over a reload.
  const folded = page.locator('li.card[data-open="0"]').nth(1);
  await folded.locator('summary').tap();
  await shot(page, 'round-folded-open');
  const words = await folded.locator('.told .what').first().textContent();
  await folded.getByRole('button', { name: /^Undo/ }).first().tap();
  await until('the strike is in the book', async () => (await server.stored()).length === stored.length + 1);
  await page.reload();
  await seen(`${words} is due again after a reload`, page.locator('[data-open="1"]'));
  check((await page.locator('[data-open="0"]').count()) > 5, 'what was done stays shown over a reload');
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
