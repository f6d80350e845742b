// Checks the house rules that a program can see (README.md): components stay short, the rules in src/lib
// know nothing of Svelte or the screen, and no markup has a style of its own.
import { readdirSync, readFileSync } from 'node:fs';

const kMostLines = 150;
const source = new URL('../src/', import.meta.url);
const files = (folder) => readdirSync(new URL(folder, source)).map((name) => `${folder}${name}`);
const text = (name) => readFileSync(new URL(name, source), 'utf8');
const faults = [];

for (const name of [...files('components/'), ...files('pages/'), 'App.svelte'].filter((one) => one.endsWith('.svelte'))) {
  const lines = text(name).split('\n').length;
  if (lines > kMostLines) faults.push(`${name} has ${lines} lines, more than ${kMostLines}`);
  const markup = text(name).replace(/<script[\s\S]*?<\/script>|<style[\s\S]*?<\/style>|<!--[\s\S]*?-->/g, '');
  if (/\sstyle="/.test(markup)) faults.push(`${name} has a style="..." in its markup: the page's rules forbid it`);
  const said = markup.match(/>[^<>{}]*[A-Za-z]{3,}[^<>{}]*</g)?.filter((one) => !/[=();]/.test(one));
  if (said) faults.push(`${name} holds words of its own, which belong to lib/strings/: ${said.join(' ')}`);
}
for (const name of [...files('lib/'), ...files('lib/strings/')].filter((one) => /\.ts$/.test(one) && !/api_types/.test(one))) {
  const imports = [...text(name).matchAll(/^import (type )?.*from '(.*)'/gm)];
  for (const [, is_type, from] of imports) {
    if (is_type !== 'type ' && (from === 'svelte' || from.endsWith('.svelte') || from.includes('state.svelte'))) {
      faults.push(`${name} imports ${from}: the rules know nothing of the screen`);
    }
  }
}
for (const fault of faults) console.error(fault);
process.exit(faults.length > 0 ? 1 : 0);
