// A weight that is far too low raises a finding: on the round, on the animal's page, on the plan.
import { check, check_axe, kPhone, open_page, open_server, seen, shot, until } from './harness.mjs';

export async function run(browser) {
  const server = await open_server();
  const findings = async () => (await (await fetch(`${server.url}/api/round`)).json()).findings.filter((one) => one.subject === 'basalt');
  check((await findings()).length === 0, 'nothing was noticed about Basalt before', await findings());
  const page = await open_page(browser, server, kPhone);
  const row = page.locator('[data-state="due"]', { hasText: 'weigh Basalt' });
  await row.locator('.tap').tap();
  const sheet = page.locator('dialog[open]');
  await sheet.getByLabel('Mass').fill('1,2');
  await sheet.getByRole('button', { name: 'Save' }).tap();
  await until('the book notices it', async () => (await findings()).length > 0);
  const [finding] = await findings();
  check(/weigh|weight|lost|loss/i.test(finding.headline), 'it is about the weight', finding);
  await until('and the round says so by itself', async () => (await page.getByText(finding.headline, { exact: true }).count()) > 0);
  await page.getByText(finding.headline, { exact: true }).first().scrollIntoViewIfNeeded();
  await shot(page, 'finding-round');
  await check_axe(page, 'the round with the finding', { aaa: true });
  await page.goto(`${server.url}/#/animal/basalt`);
  const verdict = page.locator('[data-verdict]');
  await verdict.waitFor();
  check((await verdict.getAttribute('data-verdict')) !== 'well', "the animal's page too", await verdict.getAttribute('data-verdict'));
  await seen('with the finding as a reason', verdict.getByText(finding.headline));
  await shot(page, 'finding-animal');
  check(page.errors.length === 0, 'no errors', page.errors);
  await server.close();
}
