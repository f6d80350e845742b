// The list of animals and an animal's page: verdict and reasons, the chart and its table, jots through
// the outbox, own values, without a signal, by keyboard, with nothing in the room.
import { check, check_axe, counted, kNarrow, kPhone, open_page, open_server, say, seen, shot, tight_spots, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, kPhone, '#/animals');
  await list(page);
  await verdict(page, server);
  await chart(page);
  await jots(page, server);
  await own_value(page, server);
  await no_signal(page, server);
  check(page.errors.length === 0, 'no errors', page.errors);
  await page.context().close();
  await by_keyboard(browser, server);
  await server.close();
  await nothing_there(browser);
}

async function list(page) {
  await page.waitForSelector('main li a');
  const names = await page.locator('main ul.card a strong').allTextContents();
  check(names.length >= 13 && names[0] === 'Moss', 'the list begins with who needs something', names);
  await page.getByLabel('Find by name').fill('tree frog');
  await until('letters find by species', async () => (await page.locator('main li a strong').allTextContents()).join() === 'Agate,Flint,Slate');
  await page.getByLabel('Find by name').fill('qqq');
  await seen('nothing found is said', page.getByText('No animal has these letters'));
  await page.getByLabel('Find by name').fill('moss');
  await page.locator('main li a').first().click();
  await page.waitForSelector('main canvas');
}

async function verdict(page, server) {
  await until('a tap opens the animal', async () => /moss$/.test(page.url()) && (await page.locator('h1').textContent()) === 'Moss');
  const told = await (await fetch(`${server.url}/api/animals/moss`)).json();
  const section = page.locator('[data-verdict]');
  check((await section.getAttribute('data-verdict')) !== 'well', 'a slow loss is not well', await section.getAttribute('data-verdict'));
  const reasons = await section.locator('summary').count();
  check(reasons === told.signs.length + told.findings.length, 'every sign and finding is a reason', reasons);
  await section.locator('summary').first().click();
  await seen('a reason names its source', section.getByText('Source:'));
}

async function chart(page) {
  check(await page.getByRole('img', { name: /^Weight of Moss: \d+ weighings from/ }).isVisible(), 'the chart has a text name');
  for (const span of ['3 months', 'All', 'A year']) {
    const drawn = () => page.evaluate(() => performance.getEntriesByName('weight-plot', 'measure').length);
    const before = await drawn();
    await page.getByLabel(span, { exact: true }).check();
    await until(`the chart is drawn anew: ${span}`, async () => (await drawn()) > before);
  }
  const times = await page.evaluate(() => performance.getEntriesByName('weight-plot', 'measure').map((one) => one.duration));
  // A figure, not a check: it depends on the machine. At once is 0.1 s (Nielsen 1993, Usability Engineering, from memory).
  say(`     the slowest drawing of the chart: ${Math.max(...times).toFixed(0)} ms`);
  const frame = page.locator('[role=img] .u-over').first();
  const box = await frame.boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + 40);
  await until('a place on the chart reads out its day', async () => /model/.test(await page.locator('.frame + p').textContent()));
  await page.locator('summary', { hasText: 'The same as a table' }).click();
  const told = await page.evaluate(async () => (await fetch('/api/animals/moss/weights')).json());
  await counted('the table has every weighing', page.locator('table tbody tr'), told.weighings.length);
  await check_axe(page, 'the table open');
}

async function jots(page, server) {
  const last = async (kind) => (await server.stored()).filter((one) => one.kind === kind && one.subject === 'moss').at(-1);
  await page.getByRole('button', { name: 'Weigh', exact: true }).click();
  await page.getByLabel('Mass').fill('61,5');
  await seen('a weighing far off is questioned', page.getByText('more than last time'));
  await page.getByLabel('Mass').fill('40,5');
  await shot(page, 'animal-weigh');
  await check_axe(page, 'the sheet');
  await page.getByRole('button', { name: 'Save' }).click();
  await until('the weighing is in the book', async () => /40\.5 ?g/.test(JSON.stringify(await last('weighed'))));
  await page.getByRole('button', { name: 'Undo' }).click();
  await until('Undo strikes it', async () => (await last('struck')) !== undefined);
  await page.getByRole('button', { name: 'Refused', exact: true }).click();
  check(await page.getByRole('radio', { name: 'Refused' }).isChecked(), 'Refused begins as refused');
  await page.getByRole('button', { name: 'Save' }).click();
  await until('the refusal is in the book', async () => (await last('refused')) !== undefined);
  await page.getByRole('button', { name: 'Shed', exact: true }).click();
  await page.getByRole('button', { name: 'Save' }).click();
  await until('the shed is in the book', async () => (await last('shed')) !== undefined);
  await page.getByRole('button', { name: 'Note', exact: true }).click();
  await page.getByRole('button', { name: 'Save' }).click();
  await seen('an empty note is not written', page.getByText('Write a word or two'));
  await page.getByLabel('What was seen or done').fill('bright and climbing');
  await page.getByRole('button', { name: 'Save' }).click();
  await until('the note is in the book', async () => (await last('note')) !== undefined);
  await until('the page shows it', async () => {
    await page.evaluate(() => document.querySelectorAll('main details').forEach((one) => (one.open = true)));
    return (await page.getByText('bright and climbing').count()) > 0;
  });
}

async function own_value(page, server) {
  const record = async () => (await (await fetch(`${server.url}/api/records`)).json()).records.override.find((one) => one.animal === 'moss');
  const row = page.locator('li', { has: page.getByRole('button', { name: /own value ?: cool side$/ }) });
  await row.getByRole('button', { name: /^Set own value/ }).click();
  await page.getByRole('textbox', { name: /^From/ }).fill('25');
  await page.getByRole('textbox', { name: /^To/ }).fill('20');
  await page.getByRole('button', { name: 'Save' }).click();
  await seen('an own value wants its reason', page.getByText('Say why'));
  await page.getByRole('textbox', { name: 'Why' }).fill('basks there all morning');
  await page.getByRole('button', { name: 'Save' }).click();
  await seen('a range upside down is told', page.getByText('must not be above'));
  await page.getByRole('textbox', { name: /^From/ }).fill('19,5');
  await page.getByRole('textbox', { name: /^To/ }).fill('22');
  await shot(page, 'animal-own-value');
  await check_axe(page, 'the sheet of an own value');
  await page.getByRole('button', { name: 'Save' }).click();
  await until('the own value is in the book', async () => (await record())?.value === '19.5C..22C');
  await until('and on the page', async () => (await row.getByText('your own value').count()) > 0 && (await row.getByText('19.5 – 22 °C').count()) > 0);
  await row.getByRole('button', { name: 'Change own value' }).click();
  await page.getByRole('button', { name: 'Take my value out' }).click();
  await until('taken out again', async () => (await record()) === undefined && (await row.getByText('your own value').count()) === 0);
}

async function no_signal(page, server) {
  await server.down();
  await page.reload();
  await page.waitForSelector('main canvas');
  await seen('without a signal the page says from when it is', page.locator('.age'));
  await page.getByRole('button', { name: 'Fed', exact: true }).click();
  await page.getByRole('button', { name: 'Save' }).click();
  await until('what was written waits and is shown', async () => page.getByText('Saved on this phone, not yet in the book').isVisible());
  await shot(page, 'animal-no-signal');
  await server.up();
  await page.evaluate(() => dispatchEvent(new Event('online')));
  await until('and goes out', async () => (await server.stored()).some((one) => one.kind === 'fed' && one.subject === 'moss'));
}

async function by_keyboard(browser, server) {
  const page = await open_page(browser, server, kNarrow, '#/animal/garnet');
  await page.waitForSelector('main canvas');
  await seen('quarantine shows its progress', page.getByText(/of 90 days/));
  const tight = await tight_spots(page);
  check(tight.length === 0, 'at 320 px nothing is too small or too wide', tight);
  await page.getByRole('button', { name: 'Weigh', exact: true }).focus();
  await page.keyboard.press('Enter');
  await page.keyboard.type('219');
  await page.keyboard.press('Enter');
  await until('weighed without a pointer', async () => (await server.stored()).some((one) => one.kind === 'weighed' && one.subject === 'garnet'));
  await page.getByLabel('A year').focus();
  await page.keyboard.press('ArrowRight');
  check(await page.getByLabel('All', { exact: true }).isChecked(), 'arrows choose the span');
  await page.goto(`${server.url}/#/animal/nobody`);
  await until('an animal that is not there is said', async () => (await page.locator('.age').count()) > 0);
  check(page.errors.length === 0, 'no errors', page.errors);
  await page.context().close();
}

async function nothing_there(browser) {
  const bare = await open_server({ empty: true });
  const page = await open_page(browser, bare, kPhone, '#/animals');
  await page.getByText('No animals yet').waitFor();
  await seen('an empty list leads to the set-up', page.getByRole('link', { name: 'Add the first animal' }));
  await check_axe(page, 'an empty list');
  await shot(page, 'animals-empty');
  await bare.close();
}
