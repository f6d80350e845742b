// The plan of the room: racks, shelves, the worst of each enclosure in a word, a way to each.
import { check, check_axe, kDesk, kPhone, open_page, open_server, seen, shot } from './harness.mjs';

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
  await server.down();
  await page.goto(`${server.url}/#/room`);
  await seen('without a signal the plan says from when it is', page.locator('.age'));
  check((await page.locator('main li a').count()) === plan.enclosures.length, 'and is whole');
  check(page.errors.length === 0, 'no errors', page.errors);
  await page.context().close();
  await server.close();
  const bare = await open_server({ empty: true });
  const empty = await open_page(browser, bare, kPhone, '#/room');
  await empty.getByText('Nothing stands here yet').waitFor();
  await check_axe(empty, 'an empty room');
  await shot(empty, 'room-empty');
  await bare.close();
}
