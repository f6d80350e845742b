// `warmside serve` itself with a book of its own: a demo room made for today, or a room of which
// nothing but its name is known. It hands out dist/, so that the app that was just built is tried.
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const kProgram = process.env.WARMSIDE ?? fileURLToPath(new URL('../../build/release/warmside', import.meta.url));
const kDist = fileURLToPath(new URL('../dist/', import.meta.url));
const kSixtyAnimals = fileURLToPath(new URL('../../bench/sixty_animals.py', import.meta.url));
const kEmptyRoom = '[room]\nname = "New room"\nzone = "Europe/Oslo"\n';

const started = new Set();
const folders = [];
process.on('exit', () => {
  for (const server of started) server.kill('SIGTERM');
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

/** What is missing before anything can be tried; empty: nothing. */
export function missing() {
  if (!existsSync(kProgram)) return `there is no program at ${kProgram}: build it, or name it in WARMSIDE`;
  if (!existsSync(join(kDist, 'index.html'))) return 'there is no dist/: npm run build';
  return '';
}

/**
 * `people`: who may sign in, as {name, role, passphrase}; the first is an owner. `name`: also reached by it.
 * `sixty`: a room of more than sixty animals.
 */
export async function start_real({ empty = false, sixty = false, people = [], name = '' } = {}) {
  const above = mkdtempSync(join(tmpdir(), 'warmside-e2e-'));
  folders.push(above);
  const folder = join(above, 'room');
  const book = join(folder, 'room.db');
  const today = new Intl.DateTimeFormat('sv-SE', { timeZone: 'Europe/Oslo' }).format(new Date());
  const run = (words, input) => execFileSync(kProgram, words, { encoding: 'utf8', input });
  if (empty) {
    mkdirSync(folder);
    writeFileSync(join(folder, 'empty.toml'), kEmptyRoom);
    run(['import', '--book', book, join(folder, 'empty.toml')]);
  } else if (sixty) {
    mkdirSync(folder);
    execFileSync('python3', [kSixtyAnimals, kProgram, folder, today], { stdio: 'ignore' });
  } else {
    run(['demo', folder, '--date', today]);
  }
  for (const one of people) run(['people', 'add', one.name, '--role', one.role, '--book', book], `${one.passphrase}\n`);

  const serve = async (port) => {
    const words = ['serve', '--book', book, '--listen', `127.0.0.1:${port}`, '--web-dir', kDist, ...(name ? ['--name', name] : [])];
    const server = spawn(kProgram, words, { stdio: ['ignore', 'pipe', 'inherit'] });
    started.add(server);
    const url = await new Promise((done, fail) => {
      let told = '';
      server.stdout.on('data', (part) => {
        told += part;
        const found = /http:\/\/[^\s/]+/.exec(told);
        if (found) done(found[0]);
      });
      server.on('exit', () => fail(new Error(`it ended at once: ${told}`)));
    });
    return { server, url };
  };
  const end = ({ server }) => {
    if (server.exitCode !== null || server.signalCode !== null) return undefined;
    started.delete(server);
    const ended = new Promise((done) => server.on('exit', done));
    server.kill('SIGTERM');
    return ended;
  };

  let running = await serve(0);
  const { url } = running;
  const fetch_as_owner = await signed_in(url, people[0]);
  const began = new Set((await page_of_entries(fetch_as_owner)).map((one) => one.id));
  return {
    url,
    close: () => end(running),
    /** Ends the program; `up` starts it anew at the same address and on the same book. */
    down: () => end(running),
    up: async () => void (running = await serve(new URL(url).port)),
    /** What came since the start, in the order in which the book stored it. */
    stored: async () => (await page_of_entries(fetch_as_owner)).filter((one) => !began.has(one.id)).reverse(),
  };
}

/** Asks as the owner, who stays signed in when the program is started anew. */
async function signed_in(url, owner) {
  if (!owner) return (path) => fetch(url + path);
  const { name, passphrase } = owner;
  const answer = await fetch(`${url}/api/session`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ name, passphrase }) });
  if (!answer.ok) throw new Error(`the owner cannot sign in: ${answer.status}`);
  const cookie = answer.headers.get('set-cookie').split(';')[0];
  return (path) => fetch(url + path, { headers: { Cookie: cookie } });
}

/** The newest 200, newest first. */
async function page_of_entries(fetch_as_owner) {
  const { entries } = await (await fetch_as_owner('/api/entries?limit=200')).json();
  return entries;
}
