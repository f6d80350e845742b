// A sitter sees the round and ticks it; every other page says so, and every other call is refused.
import { check, check_axe, open_server, seen, shot, until } from './harness.mjs';
import { kAda, kCleo, phone_of } from './sign_in.mjs';

const kPages = ['animals', 'animal/juniper', 'room', 'enclosure/skink-table', 'notebook', 'trace', 'rota', 'setup', 'setup/animal', 'setup/import', 'people'];
// Method, address, body; each would be answered if an owner asked.
const kCalls = [
  ['GET', 'room'], ['GET', 'animals/juniper'], ['GET', 'animals/juniper/weights'], ['GET', 'enclosures/skink-table'], ['GET', 'enclosures/skink-table/maps'],
  ['GET', 'entries'], ['GET', 'records'], ['GET', 'rota'], ['GET', 'people'], ['GET', 'export/notebook.jsonl'], ['GET', 'export/room.toml'],
  ['GET', 'trace?animal=garnet&at=2026-01-01T00:00:00Z&direction=ahead'],
  ['PUT', 'records/tool/hook-9', { id: 'hook-9', kind: 'hook' }], ['DELETE', 'records/animal/juniper'],
  ['PUT', 'people/Cleo', { role: 'owner', passphrase: 'two cool flat slates' }], ['DELETE', 'people/Ada'],
  ['POST', 'import', { files: [] }],
];

export async function run(browser) {
  const server = await open_server({ people: [kAda, kCleo] });
  const page = await phone_of(browser, server, kCleo);
  const places = (await page.getByRole('navigation').getByRole('link').allTextContents()).map((one) => one.trim());
  check(places.join() === 'Round,More', 'the places are the round and more', places);
  await shot(page, 'sitter-round');
  await check_axe(page, 'the round of a sitter', { aaa: true });
  await page.locator('[data-state="due"] .tap', { hasText: 'fresh water' }).first().tap();
  await until('what is ticked is in the book', async () => (await server.stored()).length === 1);
  await page.getByRole('status').getByRole('button', { name: 'Undo' }).tap();
  await until('and can be taken back', async () => (await server.stored()).at(-1).kind === 'struck');
  for (const place of kPages) {
    await page.goto(`${server.url}/#/${place}`);
    await seen(`${place} is not for a sitter`, page.getByText('This page is not for your role.'));
  }
  await check_axe(page, 'a page that is not for the role');
  await page.goto(`${server.url}/#/more`);
  await page.getByRole('heading', { name: 'More' }).waitFor();
  const links = (await page.locator('main ul a strong').allTextContents()).join();
  check(links === 'About', 'nothing else is offered', links);
  await shot(page, 'sitter-more');

  const answers = await page.evaluate(async (calls) => {
    const statuses = [];
    for (const [method, path, body] of calls) {
      const headers = body ? { 'Content-Type': 'application/json' } : {};
      statuses.push((await fetch(`/api/${path}`, { method, headers, body: body && JSON.stringify(body) })).status);
    }
    return statuses;
  }, kCalls);
  answers.forEach((status, i) => check(status === 403, `${kCalls[i][0]} /api/${kCalls[i][1]} is refused`, status));
  // The app of a sitter writes what the round asks for; no other program gets more in.
  const moved = await page.evaluate(async () => {
    const id = `019${crypto.randomUUID().slice(3, 14)}7${crypto.randomUUID().slice(15)}`;
    const entry = { id, at: new Date().toISOString(), kind: 'moved', animal: 'juniper', target: 'enclosure rack-a-1' };
    const answer = await fetch('/api/entries', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ entries: [entry] }) });
    return answer.status === 200 ? (await answer.json()).results[0].outcome : String(answer.status);
  });
  check(moved === 'refused', 'a sitter cannot move an animal', moved);
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
