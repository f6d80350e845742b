// A stand-in for `warmside serve`: hands out dist/ under the server's page rules and answers the API
// by asking the real program, with a demo room made for today. It can be told to fail, as lines and
// machines do. For tests only: it knows no roles and checks little.
//
//   node e2e/mock_server.mjs [--port 8730] [--people] [--empty]     WARMSIDE=path/to/warmside
//
// POST /mock/faults {"faults": ["cut_before", "cut_after", "half", "500", "slow", "refuse"]}: the next
// calls of the API fail so, one after the other; "down" (everything)
// and "api_down" hold until told otherwise.
// POST /mock/newer: from now on the shell is a newer one.
//
// What it has no answer for it asks `warmside serve` of the same program on the same book, where the
// program has that: the room's plan, weights, maps, records, the notebook.
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';

const kTypes = {
  '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.svg': 'image/svg+xml',
  '.png': 'image/png', '.webmanifest': 'application/manifest+json', '.txt': 'text/plain; charset=utf-8',
};
const kRules =
  "default-src 'self'; style-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";
const kPeople = { keeper: { passphrase: 'three warm stones', role: 'keeper' }, sitter: { passphrase: 'two cool stones', role: 'sitter' } };
const kEmptyRoom = '[room]\nname = "New room"\nzone = "Europe/Oslo"\nlatitude = 60.39\nlongitude = 5.32\n';

export function start_mock({ port = 0, people = false, empty = false } = {}) {
  const program = process.env.WARMSIDE ?? fileURLToPath(new URL('../../build/release/warmside', import.meta.url));
  const dist = fileURLToPath(new URL('../dist/', import.meta.url));
  const folder = join(mkdtempSync(join(tmpdir(), 'warmside-mock-')), 'room');
  const book = join(folder, 'room.db');
  const today = new Intl.DateTimeFormat('sv-SE', { timeZone: 'Europe/Oslo' }).format(new Date());
  const run = (...words) => execFileSync(program, words, { encoding: 'utf8', maxBuffer: 1 << 28 });
  run('demo', folder, '--date', today);
  const room_file = empty ? kEmptyRoom : readFileSync(join(folder, 'room.toml'), 'utf8');
  if (empty) {
    execFileSync('rm', [book]);
    writeFileSync(join(folder, 'empty.toml'), kEmptyRoom);
    run('import', '--book', book, join(folder, 'empty.toml'));
  }

  const state = { change: 1, stored: new Map(), arrived: [], faults: [], down: false, api_down: false, newer: false, sessions: new Map(), listeners: new Set() };

  function session(request) {
    const token = /warmside=(\w+)/.exec(request.headers.cookie ?? '')?.[1];
    const name = state.sessions.get(token);
    const signed_in = !people || name !== undefined;
    return {
      signed_in, name: name ?? '', role: !people ? 'owner' : (kPeople[name]?.role ?? null),
      room: signed_in ? (/name = "(.*)"/.exec(room_file)?.[1] ?? '') : '', units: 'metric',
      zone: signed_in ? 'Europe/Oslo' : '', today, version: 'mock', change: state.change,
    };
  }

  // What the program's task lacks for a tap, in the form in which the app would like it.
  function with_courses(task) {
    if (task.task !== 'feeding' || task.courses) return task;
    const counted = /^(\d+) x ([^(;]+?) *(\(|;|$)/.exec(task.detail);
    const weighed = /^([\d.]+) g of ([^(;]+?) *(\(|;|$)/.exec(task.detail);
    const jar = /from (jar-[a-z0-9-]+)/.exec(task.detail)?.[1] ?? null;
    if (counted) return { ...task, courses: [{ food: counted[2], count: Number(counted[1]), mass_g: null, jar }] };
    if (weighed) return { ...task, courses: [{ food: weighed[2], count: null, mass_g: Number(weighed[1]), jar }] };
    return { ...task, courses: [] };
  }

  function round() {
    const answer = JSON.parse(run('today', '--book', book, '--date', today, '--json'));
    for (const stop of answer.round) stop.tasks = stop.tasks.map(with_courses);
    return answer;
  }

  function store(entries) {
    const import_them = (some) => {
      writeFileSync(join(folder, 'sent.jsonl'), some.map((entry) => JSON.stringify(entry) + '\n').join(''));
      run('import', '--book', book, join(folder, 'sent.jsonl'));
    };
    const results = entries.map((entry) => ({ id: entry.id, outcome: state.stored.has(entry.id) ? 'before' : 'stored', problems: [] }));
    const fresh = entries.filter((entry) => !state.stored.has(entry.id));
    try {
      if (fresh.length > 0) import_them(fresh);
    } catch {
      for (const entry of fresh) {
        try {
          import_them([entry]);
        } catch (failure) {
          const result = results.find((one) => one.id === entry.id);
          result.outcome = 'refused';
          const what = String(failure.stderr).split('\n')[0].replace(/^.*jsonl:\d+: /, '');
          result.problems = [{ what, file: '', line: 0, field: '', expected: '', found: '' }];
        }
      }
    }
    for (const entry of entries) {
      state.arrived.push(entry.id);
      if (results.find((one) => one.id === entry.id).outcome === 'stored') state.stored.set(entry.id, entry);
    }
    ++state.change;
    for (const listener of state.listeners) listener.write(`event: change\ndata: {"change": ${state.change}}\n\n`);
    return { results, change: state.change };
  }

  function refuse(entries) {
    const problems = [{ what: 'the book says no', file: '', line: 0, field: 'note', expected: 'other words', found: 'these' }];
    return { results: entries.map(({ id }) => ({ id, outcome: 'refused', problems })), change: state.change };
  }

  // Path and what answers it; `ask` has method, the path's last part, query and body.
  const answers = [
    ['GET', /^\/api\/round$/, () => round()],
    ['POST', /^\/api\/entries$/, ({ body }) => store(body.entries)],
    ['GET', /^\/api\/animals\/([a-z0-9_-]+)$/, ({ id }) => JSON.parse(run('animal', id, '--book', book, '--json'))],
    ['GET', /^\/api\/enclosures\/([a-z0-9_-]+)$/, ({ id }) => JSON.parse(run('enclosure', id, '--book', book, '--json'))],
    ['GET', /^\/api\/species\/([a-z0-9_-]+)$/, ({ id }) => JSON.parse(run('species', id, '--json'))],
    ['GET', /^\/api\/rota$/, () => JSON.parse(run('diet', 'rota', '--book', book, '--json'))],
    ['GET', /^\/api\/trace$/, ({ query }) => JSON.parse(run('trace', '--book', book, '--from', query.get('animal'), '--at', query.get('at'), query.get('direction') === 'back' ? '--back' : '--ahead', '--json'))],
  ];

  function problem(response, status, title) {
    send(response, status, { type: 'about:blank', title, status, problems: [] }, 'application/problem+json');
  }

  function send(response, status, value, type = 'application/json', headers = {}) {
    response.writeHead(status, { 'Content-Type': type, 'Cache-Control': 'no-store', ...headers });
    response.end(JSON.stringify(value));
  }

  async function answer_api(request, response, url, body) {
    const writes = request.method === 'POST' && url.pathname === '/api/entries';
    const fault = state.faults[0] === 'refuse' && !writes ? undefined : state.faults.shift();
    if (fault === 'refuse') return send(response, 200, refuse(body.entries));
    if (fault === 'cut_before') return request.socket.destroy();
    if (fault === '500') return problem(response, 500, 'the machine failed');
    if (fault === 'slow') await new Promise((done) => setTimeout(done, 1500));
    if (url.pathname === '/api/session') return answer_session(request, response, body);
    if (!session(request).signed_in) return problem(response, 401, 'sign in first');
    if (url.pathname === '/api/events') {
      response.writeHead(200, { 'Content-Type': 'text/event-stream', 'Cache-Control': 'no-store' });
      response.write(': here\n\n');
      state.listeners.add(response);
      return response.on('close', () => state.listeners.delete(response));
    }
    const found = answers.find(([method, path]) => method === request.method && path.test(url.pathname));
    if (!found) return pass_on(request, response, url, body);
    let value;
    try {
      value = found[2]({ id: found[1].exec(url.pathname)[1], query: url.searchParams, body });
    } catch (failure) {
      return problem(response, 404, String(failure.stderr ?? failure).split('\n')[0]);
    }
    if (fault === 'cut_after') return request.socket.destroy();
    if (fault === 'half') {
      const text = JSON.stringify(value);
      response.writeHead(200, { 'Content-Type': 'application/json', 'Content-Length': text.length });
      response.write(text.slice(0, text.length / 2));
      return setTimeout(() => request.socket.destroy(), 20);
    }
    send(response, 200, value);
  }

  // Started when it is first needed, and ended with the stand-in.
  let behind = null;
  function server_behind() {
    behind ??= new Promise((done, fail) => {
      const child = spawn(program, ['serve', '--book', book, '--listen', '127.0.0.1:0', '--web-dir', dist], { stdio: ['ignore', 'pipe', 'ignore'] });
      state.child = child;
      process.on('exit', () => child.kill('SIGTERM'));
      let told = '';
      child.stdout.on('data', (part) => {
        told += part;
        const address = /http:\/\/[^\s/]+/.exec(told);
        if (address) done(address[0]);
      });
      child.on('exit', () => fail(new Error('the program does not serve')));
    });
    return behind;
  }

  async function pass_on(request, response, url, body) {
    try {
      const address = await server_behind();
      const answer = await fetch(address + url.pathname + url.search, {
        method: request.method,
        headers: { Origin: address, ...(body ? { 'Content-Type': 'application/json' } : {}) },
        ...(body ? { body: JSON.stringify(body) } : {}),
      });
      if (request.method !== 'GET' && answer.ok) ++state.change;
      response.writeHead(answer.status, { 'Content-Type': answer.headers.get('Content-Type') ?? 'application/json', 'Cache-Control': 'no-store' });
      response.end(Buffer.from(await answer.arrayBuffer()));
    } catch (failure) {
      problem(response, 404, `the stand-in has no answer to this: ${failure.message}`);
    }
  }

  function answer_session(request, response, body) {
    if (request.method === 'GET') return send(response, 200, session(request));
    if (request.method === 'DELETE') {
      state.sessions.clear();
      response.writeHead(204).end();
      return;
    }
    if (kPeople[body.name]?.passphrase !== body.passphrase) return problem(response, 401, 'name or passphrase is not right');
    const token = `t${state.sessions.size}${Date.now()}`;
    state.sessions.set(token, body.name);
    const cookie = `warmside=${token}`;
    send(response, 200, session({ headers: { cookie } }), 'application/json', { 'Set-Cookie': `${cookie}; HttpOnly; SameSite=Strict; Path=/` });
  }

  function answer_file(response, path) {
    const file = join(dist, normalize(path === '/' ? '/index.html' : path));
    if (!file.startsWith(dist) || !existsSync(file)) return problem(response, 404, 'no such page');
    response.writeHead(200, {
      'Content-Type': kTypes[extname(file)] ?? 'application/octet-stream', 'Content-Security-Policy': kRules,
      'X-Content-Type-Options': 'nosniff', 'Referrer-Policy': 'no-referrer',
      'Cache-Control': path.startsWith('/assets/') ? 'max-age=31536000, immutable' : 'no-cache',
    });
    response.end(path === '/sw.js' && state.newer ? `${readFileSync(file)}\n// newer` : readFileSync(file));
  }

  const server = createServer((request, response) => {
    const parts = [];
    request.on('data', (part) => parts.push(part));
    request.on('end', async () => {
      const url = new URL(request.url, 'http://mock');
      const text = Buffer.concat(parts).toString();
      const body = text ? JSON.parse(text) : null;
      if (url.pathname === '/mock/faults') {
        state.faults = body.faults.filter((fault) => !fault.endsWith('down'));
        state.down = body.faults.includes('down');
        state.api_down = body.faults.includes('api_down');
        if (state.down || state.api_down) for (const listener of state.listeners) listener.destroy();
        return send(response, 200, {});
      }
      if (url.pathname === '/mock/newer') {
        state.newer = true;
        return send(response, 200, {});
      }
      if (url.pathname === '/mock/stored') return send(response, 200, { stored: [...state.stored.values()], arrived: state.arrived });
      if (state.down) return request.socket.destroy();
      if (state.api_down && url.pathname.startsWith('/api/')) return request.socket.destroy();
      if (url.pathname.startsWith('/api/')) return answer_api(request, response, url, body);
      if (url.pathname === '/trust') return send(response, 200, {});
      return answer_file(response, url.pathname);
    });
  });
  return new Promise((done) => {
    server.listen(port, '127.0.0.1', () =>
      done({
        url: `http://127.0.0.1:${server.address().port}`,
        close: () => (state.child?.kill('SIGTERM'), server.closeAllConnections(), server.close()),
      }),
    );
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const at = process.argv.indexOf('--port');
  const mock = await start_mock({
    port: at < 0 ? 8730 : Number(process.argv[at + 1]),
    people: process.argv.includes('--people'),
    empty: process.argv.includes('--empty'),
  });
  console.log(mock.url);
}
