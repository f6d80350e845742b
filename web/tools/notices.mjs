// Writes dist/notices.txt: the licences of what the built app holds, as they ask. Part of `npm run build`.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';

// What ends up in dist/; uPlot only once a page draws with it.
const kPackages = ['svelte', 'clsx', 'esm-env', 'idb', 'openapi-fetch', 'uplot', 'workbox-core', 'workbox-precaching', 'workbox-routing'];

const modules = new URL('../node_modules/', import.meta.url);
const parts = kPackages.map((name) => {
  const { version, license } = JSON.parse(readFileSync(new URL(`${name}/package.json`, modules), 'utf8'));
  const file = ['LICENSE', 'LICENSE.md', 'license'].map((one) => new URL(`${name}/${one}`, modules)).find((one) => existsSync(one));
  if (!file) throw new Error(`${name} ${version} (${license}) has no licence file`);
  return `${name} ${version} (${license})\n\n${readFileSync(file, 'utf8').trim()}\n`;
});
writeFileSync(
  new URL('../dist/notices.txt', import.meta.url),
  `The app of Warmside holds parts of these packages.\n\n${parts.join(`\n${'-'.repeat(78)}\n\n`)}`,
);
