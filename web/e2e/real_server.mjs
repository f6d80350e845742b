// `warmside serve` itself, with a demo room made for today, in the form in which the modules know the
// stand-in. It cannot be told to fail, so modules that need faults are left to the stand-in.
import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const started = [];
process.on('exit', () => started.forEach((server) => server.kill('SIGTERM')));

/** With `empty` a room of which nothing but its name is known. */
export async function start_real(program, { empty = false } = {}) {
  const folder = join(mkdtempSync(join(tmpdir(), 'warmside-real-')), 'room');
  const today = new Intl.DateTimeFormat('sv-SE', { timeZone: 'Europe/Oslo' }).format(new Date());
  if (empty) {
    mkdirSync(folder);
    writeFileSync(join(folder, 'empty.toml'), '[room]\nname = "New room"\nzone = "Europe/Oslo"\n');
    execFileSync(program, ['import', '--book', join(folder, 'room.db'), join(folder, 'empty.toml')]);
  } else {
    execFileSync(program, ['demo', folder, '--date', today]);
  }
  const dist = fileURLToPath(new URL('../dist/', import.meta.url));
  const words = ['serve', '--book', join(folder, 'room.db'), '--listen', '127.0.0.1:0', '--web-dir', dist];
  const server = spawn(program, words, { stdio: ['ignore', 'pipe', 'inherit'] });
  started.push(server);
  const url = await new Promise((done, fail) => {
    let told = '';
    server.stdout.on('data', (part) => {
      told += part;
      const found = /http:\/\/[^\s/]+/.exec(told);
      if (found) done(found[0]);
    });
    server.on('exit', () => fail(new Error(`it ended at once: ${told}`)));
  });
  const began = new Set((await page_of_entries(url)).map((one) => one.id));
  return { url, close: () => server.kill('SIGTERM'), stored: async () => stored(url, began) };
}

async function page_of_entries(url) {
  return (await (await fetch(`${url}/api/entries?limit=200`)).json()).entries;
}

/** What came since the start, in the order of writing, as the stand-in tells it. */
async function stored(url, began) {
  const fresh = (await page_of_entries(url)).filter((one) => !began.has(one.id));
  // Ids are UUID version 7: their order is that of making.
  fresh.sort((a, b) => (a.id < b.id ? -1 : 1));
  return {
    stored: fresh.map((one) => ({ ...one, [one.subject_kind]: one.subject })),
    arrived: fresh.map((one) => one.id),
  };
}
