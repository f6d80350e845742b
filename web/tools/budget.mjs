// Fails when the first load grows beyond its budget: the scripts and styles that the round needs
// before it can be tapped, compressed. Also fails where a built file could not run under the page's
// rules (no inline script or style, nothing from elsewhere). Run after `npm run build`.
import { readFileSync, readdirSync } from 'node:fs';
import { gzipSync } from 'node:zlib';

// The limit is what the slowest phone that the project thinks of may be asked to load; the aim is
// what it should be. Both are our own choice.
const kLimit_kB = 150;
const kAim_kB = 60;

const dist = new URL('../dist/', import.meta.url);
const names = readdirSync(new URL('assets/', dist));
const size_kB = (name) => gzipSync(readFileSync(new URL(`assets/${name}`, dist))).length / 1000;
// What index.html asks for and the round's page, with all that they import before they run.
const first = [];
function take(name) {
  if (first.includes(name)) return;
  first.push(name);
  const script = readFileSync(new URL(`assets/${name}`, dist), 'utf8');
  for (const [, imported] of script.matchAll(/(?:from|import)\s*["']\.\/([\w.-]+\.js)["']/g)) take(imported);
}
names.filter((name) => /^(index|Round)-.*\.js$/.test(name)).forEach(take);
const total_kB = first.reduce((sum, name) => sum + size_kB(name), 0);
for (const name of names) console.log(`${size_kB(name).toFixed(1).padStart(7)} kB  ${name}`);
console.log(`first load: ${total_kB.toFixed(1)} kB of script, compressed (aim ${kAim_kB}, limit ${kLimit_kB})`);

const faults = [];
if (first.length < 2) faults.push('the scripts of the first load were not found');
if (total_kB > kLimit_kB) faults.push(`the first load is above ${kLimit_kB} kB`);
if (total_kB > kAim_kB) console.log('above the aim');
const page = readFileSync(new URL('index.html', dist), 'utf8');
if (/<script(?![^>]*\bsrc=)/.test(page)) faults.push('index.html has an inline script');
if (/<style|\sstyle=/.test(page)) faults.push('index.html has an inline style');
if (/(src|href)="(https?:)?\/\//.test(page)) faults.push('index.html asks another server');
for (const name of names.filter((one) => one.endsWith('.js'))) {
  if (/\sstyle="/.test(readFileSync(new URL(`assets/${name}`, dist), 'utf8'))) faults.push(`${name} has an inline style`);
}
const lock = readFileSync(new URL('../package-lock.json', import.meta.url), 'utf8');
if (lock.includes('"resolved"')) faults.push('package-lock.json holds download addresses');
for (const fault of faults) console.error(fault);
process.exit(faults.length > 0 ? 1 : 0);
