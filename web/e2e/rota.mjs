// The rota against the real server: three ways to read it, why, what it takes, on paper.
import { check, kPhone, look_at, open_page, open_server, shot, tight_spots } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const page = await open_page(browser, server, kPhone, '#/rota');
  await page.locator('.groups section').first().waitFor({ timeout: 60_000 });
  const answer = await (await fetch(`${server.url}/api/rota`)).json();
  const counts = { day: new Set(answer.days.map((one) => one.date)).size, animal: new Set(answer.days.map((one) => one.animal)).size, jar: new Set(answer.days.map((one) => one.jar)).size };
  for (const [view, label] of [['day', 'By day'], ['animal', 'By animal'], ['jar', 'By jar']]) {
    await page.getByLabel(label).tap();
    check((await page.locator('.groups section').count()) === counts[view], `${label}: a card for each`, counts[view]);
    check((await page.locator('.groups li').count()) === answer.days.length, `${label}: every meal stands once`);
    await shot(page, `rota-view-${view}`);
  }
  const why = page.locator('details', { hasText: 'Agate' }).last();
  await why.locator('summary').tap();
  await why.getByRole('columnheader', { name: 'Verdict' }).waitFor();
  check((await why.getByText('MSD Veterinary Manual').count()) > 0, 'a need has its source');
  check((await tight_spots(page)).length === 0, 'the table scrolls, not the page', await tight_spots(page));
  await why.scrollIntoViewIfNeeded();
  await shot(page, 'rota-why');
  await page.getByLabel('By day').tap();
  await page.emulateMedia({ media: 'print' });
  check(!(await page.getByRole('button', { name: 'Print it' }).isVisible()), 'paper has no buttons');
  const pdf = await page.pdf({ format: 'A4', printBackground: true });
  check(pdf.length > 10_000, 'it prints');
  await page.setViewportSize({ width: 688, height: 1000 }); // A4 within its margins, at 96 dots an inch
  await shot(page, 'rota-paper', true);
  await page.setViewportSize(kPhone.viewport);
  check(page.errors.length === 0, 'no errors', page.errors);
  await look_at(browser, server, [['rota', 'rota', '.groups section']]);
  await server.close();

  const bare = await open_server({ empty: true });
  await look_at(browser, bare, [['rota-empty', 'rota', 'h2:has-text("No meals to plan yet")']]);
  await bare.close();
}
