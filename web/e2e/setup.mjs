// The set-up against the real server: an enclosure, who lives in it and its thermostat in steps; a record
// with faults; one that cannot be taken out; files with bad lines, then good ones.
import { check, check_axe, kDesk, kPhone, look_at, open_page, open_server, shot, until } from './harness.mjs';

export async function run(browser) {
  const bare = await open_server({ empty: true });
  await from_nothing(browser, bare);
  await bare.close();
  const server = await open_server();
  await editing(browser, server);
  await files(browser, server);
  await look_at(browser, server, [
    ['setup', 'setup', 'ul.quick'],
    ['setup-list', 'setup/heater', 'ul.rows'],
    ['setup-editor', 'setup/enclosure?record=rack-a-1', '[data-field="length"]'],
    ['setup-add', 'setup/add?kind=animal&species=corn_snake', 'dl'],
    ['setup-import', 'setup/import', 'input[type="file"]'],
  ]);
  await server.close();
}

async function record(server, kind, id) {
  const { records } = await (await fetch(`${server.url}/api/records`)).json();
  return records[kind].find((one) => one.id === id);
}

async function from_nothing(browser, server) {
  const page = await open_page(browser, server, kPhone, '#/setup');
  await page.getByRole('heading', { name: 'An empty room' }).waitFor();
  await shot(page, 'setup-empty', true);
  await page.getByRole('link', { name: 'Add: enclosure' }).tap();
  const next = page.getByRole('button', { name: 'Next' });
  await page.getByLabel('Name').fill('Bench left');
  await next.tap();
  await page.getByLabel('For which species').selectOption('corn_snake');
  // data/species: the smallest enclosure of the profile.
  await until('the size is suggested', async () => (await page.getByLabel('Length').inputValue()) === '120cm');
  await page.getByText('120cm suggested, from smallest enclosure: 120 cm x 60 cm x 60 cm').waitFor();
  await page.getByLabel('Width').fill('70cm');
  await shot(page, 'setup-steps-enclosure', true);
  await next.tap();
  await page.getByText('This will be saved').waitFor();
  await page.getByRole('button', { name: 'Save' }).tap();
  await page.getByRole('heading', { name: 'Bench left is in the book' }).waitFor();
  const made = await record(server, 'enclosure', 'bench-left');
  check(made?.length === '120cm' && made?.width === '70cm', 'a suggestion holds, and so does what was typed over it', made);

  await page.getByRole('link', { name: 'Add: animal' }).tap();
  await next.tap();
  check((await page.locator('[data-field="species"] .fault').textContent()) === 'needed', 'an animal needs its species');
  await page.getByLabel('Species').selectOption('corn_snake');
  await page.getByRole('heading', { name: 'What the program holds for it' }).waitFor();
  await next.tap();
  check((await page.getByLabel('Enclosure').inputValue()) === 'bench-left', 'the enclosure is chosen already');
  await next.tap();
  await page.getByLabel('Name').fill('Pip');
  await next.tap();
  await page.getByRole('button', { name: 'Save' }).tap();
  await page.getByRole('heading', { name: 'Pip is in the book' }).waitFor();
  await page.getByRole('button', { name: /^Begin its quarantine today/ }).tap();
  await until('the quarantine is in the notebook', async () => (await server.stored()).some((one) => one.kind === 'quarantine_started' && one.subject === 'pip'));
  await shot(page, 'setup-done', true);

  await page.goto(`${server.url}/#/setup/add?kind=thermostat&enclosure=bench-left`);
  await page.getByLabel('Kind').selectOption('dimming');
  await next.tap();
  // The profile says 26C..30C for the warm side: 28C is its middle.
  await until('the set point is suggested from who lives there', async () => (await page.getByLabel('Day').inputValue()) === '28C');
  await page.getByText('A set point is no promise').waitFor();
  await shot(page, 'setup-steps-thermostat', true);
  await page.getByLabel('Day').fill('28');
  await next.tap();
  await page.getByRole('button', { name: 'Save' }).tap();
  await page.locator('[data-field="day"]').getByText('a number without a unit').waitFor();
  check(true, 'what the server refuses leads back to its step and field');
  check(page.errors.length === 0, 'no errors', page.errors);
}

/** Two who have the same record open: the second to save is told, and overwrites nothing unseen. */
async function two_editors(browser, server, page) {
  const other = await open_page(browser, server, kPhone, '#/setup/enclosure?record=rack-a-2');
  await page.goto(`${server.url}/#/setup/enclosure?record=rack-a-2`);
  for (const one of [page, other]) await one.getByLabel('Length').waitFor();
  const before = await record(server, 'enclosure', 'rack-a-2');
  await page.getByLabel('Length').fill('99cm');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('Saved: Rack A middle').waitFor();
  await other.locator('[data-field="place"] input').fill('by the door');
  await other.getByRole('button', { name: 'Save' }).tap();
  await other.getByText('Somebody else has changed this record').waitFor();
  await shot(other, 'setup-changed', true);
  await check_axe(other, 'changed by somebody else');
  const told = await record(server, 'enclosure', 'rack-a-2');
  check(told.length === '99cm' && told.place === before.place, 'the second changed nothing', told);
  check((await other.locator('[data-field="place"] input').inputValue()) === 'by the door', 'what was typed is still there');
  await until('the other sees what it is now', async () => {
    await other.getByRole('button', { name: 'Show it as it is now' }).tap({ timeout: 500 }).catch(() => null);
    return (await other.getByLabel('Length').inputValue()) === '99cm';
  });
  await other.locator('[data-field="place"] input').fill('by the door');
  await other.getByRole('button', { name: 'Save' }).tap();
  await other.getByText('Saved: Rack A middle').waitFor();
  const both = await record(server, 'enclosure', 'rack-a-2');
  check(both.length === '99cm' && both.place === 'by the door', 'both changes are in the book', both);
  check(other.errors.length === 0, 'no errors', other.errors);
  await other.context().close();
}

async function editing(browser, server) {
  const page = await open_page(browser, server, kDesk, '#/setup/enclosure?record=rack-a-1');
  const length = page.getByLabel('Length');
  await length.waitFor();
  const before = await record(server, 'enclosure', 'rack-a-1');
  await length.fill('55');
  await page.getByLabel('Front').fill('goo');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.locator('[data-field="length"]').getByText('a number without a unit').waitFor();
  check((await page.locator('[data-field="front"] .fault').textContent()).includes('a layer without its thickness'), 'each problem stands at its field');
  check(await length.evaluate((one) => one === document.activeElement), 'the first of them has the focus');
  await shot(page, 'setup-faults', true);
  await check_axe(page, 'the faults');
  await length.fill('125cm');
  await page.getByLabel('Front').fill(before.front);
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('Saved: Rack A bottom').waitFor();
  const after = await record(server, 'enclosure', 'rack-a-1');
  check(JSON.stringify(after) === JSON.stringify({ ...before, length: '125cm' }), 'nothing else of the record changed', after);
  await two_editors(browser, server, page);

  await page.goto(`${server.url}/#/setup/animal?record=juniper`);
  await page.getByRole('button', { name: 'Take it out' }).click();
  const sheet = page.locator('dialog[open]');
  await sheet.getByRole('button', { name: 'Take it out' }).click();
  await sheet.getByText('The notebook or another record speaks of it').waitFor();
  await shot(page, 'setup-remove-refused');
  await sheet.getByRole('button', { name: 'It left today' }).click();
  await page.getByText('Saved: Juniper').waitFor();
  check((await record(server, 'animal', 'juniper')).left?.length === 10, 'it has left instead');

  await page.goto(`${server.url}/#/setup/timer?new=1`);
  await page.getByLabel('Short name (id)').fill('Not Good');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('Begin with a small letter or digit').waitFor();
  await page.getByLabel('Short name (id)').fill('timer-spare');
  await page.getByLabel('On', { exact: true }).fill('07:30');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('Saved: timer-spare').waitFor();
  check((await record(server, 'timer', 'timer-spare'))?.on === '07:30', 'a new record is in the book');
  await page.getByRole('link', { name: /timer-spare/ }).click();
  await page.getByRole('button', { name: 'Take it out' }).click();
  await page.locator('dialog[open]').getByRole('button', { name: 'Take it out' }).click();
  await page.getByText('Taken out: timer-spare').waitFor();
  check((await record(server, 'timer', 'timer-spare')) === undefined, 'what nothing speaks of can be taken out');

  // Every kind opens, and every field of it has its label.
  const { kinds } = await (await fetch(`${server.url}/api/kinds`)).json();
  for (const { kind, fields } of kinds) {
    await page.goto(`${server.url}/#/setup/${kind}${kind === 'room' ? '' : '?new=1'}`);
    await page.locator(`[data-field="${fields[0].name}"]`).waitFor();
    const shown = await page.locator('[data-field] :is(input, select)').count();
    check(shown === fields.length, `all ${fields.length} fields of a ${kind} can be typed`, shown);
  }
  check(page.errors.length === 0, 'no errors', page.errors);
  await page.context().close();
}

async function files(browser, server) {
  const page = await open_page(browser, server, kPhone, '#/setup/import');
  const choose = (name, text) => page.getByLabel('Choose files').setInputFiles({ name, mimeType: 'text/plain', buffer: Buffer.from(text) });
  await page.getByLabel('Choose files').waitFor();
  await choose('bad.toml', '[[animal]]\nid = "x"\nspecies = "corn_snake"\nborn = 3\n\n[[enclosure]]\nid = "e"\nlength = "5"\n');
  await page.getByRole('heading', { name: 'Refused: 2 lines cannot be read' }).waitFor();
  const told = (await page.locator('dl').allTextContents()).join(' ');
  check(/bad\.toml/.test(told) && /Line\s*4/.test(told) && /animal x\.born/.test(told) && /enclosure e\.length/.test(told), 'file, line and field of each', told);
  await shot(page, 'setup-import-refused', true);
  await check_axe(page, 'refused lines');
  await choose('photo.jpg', 'x');
  await page.getByText('Only files that end in').waitFor();
  await choose('more.toml', '[[tool]]\nid = "hook-2"\nkind = "hook"\n');
  await page.getByRole('heading', { name: 'This would happen' }).waitFor();
  check((await record(server, 'tool', 'hook-2')) === undefined, 'a preview writes nothing');
  await shot(page, 'setup-import-preview', true);
  await page.getByRole('button', { name: 'Read them in now' }).tap();
  await page.getByRole('heading', { name: 'It is in the book' }).waitFor();
  check((await record(server, 'tool', 'hook-2'))?.kind === 'hook', 'then it is in the book');
  await page.goto(`${server.url}/#/setup`);
  const [file] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: /notebook\.jsonl/ }).tap()]);
  check(file.suggestedFilename() === 'notebook.jsonl', 'the notebook can be taken along', file.suggestedFilename());
  check(page.errors.length === 0, 'no errors', page.errors);
  await page.context().close();
}
