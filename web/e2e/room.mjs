// The plan of the room: racks, shelves, the worst of each enclosure in a word, a way to each.
import { axe, check, kDesk, kPhone, open_page, open_server, shot } from './harness.mjs';

const kWords = { now: 'Now', today: 'Today', 'this week': 'This week', 'good to know': 'Good to know', null: 'Nothing noticed' };

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, kDesk, '#/room');
  await page.waitForSelector('main li a');
  const plan = await (await fetch(`${server.url}/api/room`)).json();
  check((await page.locator('main li a').count()) === plan.enclosures.length, 'every enclosure stands on the plan');
  for (const one of plan.enclosures) {
    const tile = page.locator(`main a[href$="/${one.id}"]`);
    const words = await tile.textContent();
    check(words.includes(kWords[one.worst]) && one.animals.every((animal) => words.includes(animal.name)), `${one.name}: who and how`, words);
  }
  const shelves = await page.locator('.rack').first().locator('p').allTextContents();
  check(shelves.join() === [...shelves].sort().reverse().join() && shelves.length > 1, 'the top shelf stands first', shelves);
  check((await page.locator('main .finding').count()) === plan.room_findings.length, 'what is about the room itself');
  await page.locator('main a', { hasText: 'Skink table' }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Skink table' }).waitFor();
  check(true, 'a key leads to the enclosure');
  if (server.is_mock) {
    await server.faults('api_down');
    await page.goto(`${server.url}/#/room`);
    await page.waitForSelector('main li a');
    check(await page.locator('.age').isVisible(), 'without a signal the plan says from when it is');
  }
  check(page.errors.length === 0, 'no errors', page.errors);
  await page.context().close();
  server.close();
  const bare = await open_server({ empty: true });
  if (bare.is_mock) {
    const empty = await open_page(browser, bare, kPhone, '#/room');
    await empty.getByText('Nothing stands here yet').waitFor();
    check((await axe(empty)).length === 0, 'an empty room: axe');
    await shot(empty, 'room-empty');
  }
  bare.close();
}
