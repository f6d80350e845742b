// Runs the end-to-end modules one after the other: `npm run e2e [MODULE...]`. Needs dist/ (npm run
// build), chromium, and a built warmside (WARMSIDE, else ../build/release/warmside).
import { check, failed, open_browser } from './harness.mjs';

const kModules = ['looks', 'whole_round', 'weighing', 'no_signal', 'two_pages', 'refused', 'update', 'plain_http', 'sign_in', 'keyboard', 'printing', 'animals', 'enclosure', 'room', 'notebook', 'trace', 'rota', 'setup', 'people'];

const asked = process.argv.slice(2);
const browser = await open_browser();
for (const name of asked.length > 0 ? asked : kModules) {
  console.log(name);
  const { run } = await import(`./${name}.mjs`);
  try {
    await run(browser);
  } catch (failure) {
    check(false, `${name} broke off`, String(failure.stack ?? failure));
  }
  for (const context of browser.contexts()) await context.close();
}
await browser.close();
console.log(failed() === 0 ? 'all held' : `${failed()} failed`);
process.exit(failed() === 0 ? 0 : 1);
