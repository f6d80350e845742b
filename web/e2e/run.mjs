// Runs the end-to-end modules: `npm run e2e [MODULE...]`. Needs dist/ (npm run build), chromium-headless-shell, and a
// built warmside (WARMSIDE=path, else ../build/release/warmside). All talk with `warmside serve` itself;
// those that need faults do so over a line that fails (faulty_line.mjs). Several run at a time, each with
// a browser and a room of its own. The last line says how many checks held and failed.
import { open_browser, run_module } from './harness.mjs';
import { missing } from './real_server.mjs';

// The longest first, so that none of them is waited for alone at the end.
const kModules = [
  'looks', 'sheets', 'whole_round', 'setup', 'notebook', 'no_signal', 'animals', 'people', 'rota', 'enclosure', 'sitter', 'cut_answers', 'trace', 'sign_in',
  'weighing', 'refused', 'update', 'plain_http', 'keyboard', 'printing', 'room', 'two_phones', 'finding',
];
// A browser waits more than it works: two cores carry three.
const kAtOnce = 3;

const lack = missing();
if (lack) {
  console.error(lack);
  process.exit(1);
}
const asked = process.argv.slice(2);
const left = asked.length > 0 ? [...asked] : [...kModules];
const count = left.length;
const sum = { held: 0, failed: 0 };
const began = Date.now();

async function lane() {
  for (let name = left.shift(); name; name = left.shift()) {
    const { run } = await import(`./${name}.mjs`);
    const browser = await open_browser();
    const from = Date.now();
    const { lines, held, failed } = await run_module(name, () => run(browser));
    await browser.close();
    console.log(`${name} (${seconds(from)} s)\n${lines.join('\n')}`);
    sum.held += held;
    sum.failed += failed;
  }
}

function seconds(from) {
  return ((Date.now() - from) / 1000).toFixed(0);
}

await Promise.all(Array.from({ length: kAtOnce }, lane));
console.log(`${count} modules in ${seconds(began)} s: ${sum.held} checks held, ${sum.failed} failed`);
process.exit(sum.failed === 0 ? 0 : 1);
