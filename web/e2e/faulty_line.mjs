// A line that fails as lines and machines do: it stands between the browser and `warmside serve` and
// passes everything on until it is told to fail. The answers are always those of the real server.
//
//   fail('cut_before', 'cut_after', 'half', '500', 'slow', 'refuse')
//
// The next calls of the API fail so, one after the other. "refuse" waits for the next entries that are
// sent. "api_down" holds until told otherwise: the app's files come, the API does not.
import { createServer, request as ask } from 'node:http';

const kSlow_ms = 1_500;

export async function open_faulty_line(target) {
  const own = new URL(target);
  const state = { faults: [], api_down: false, newer: false };

  /** Asks the server behind, as if the browser had asked it itself. */
  function pass_on(asked, response, body, answered) {
    const headers = { ...asked.headers, host: own.host };
    if (headers.origin) headers.origin = own.origin;
    const call = ask({ host: own.hostname, port: own.port, method: asked.method, path: asked.url, headers }, answered);
    call.on('error', () => asked.socket.destroy());
    response.on('close', () => call.destroy());
    call.end(body);
  }

  function whole(answer, then) {
    const parts = [];
    answer.on('data', (part) => parts.push(part));
    answer.on('end', () => then(Buffer.concat(parts)));
  }

  function send_whole(response, answer, body) {
    const { 'transfer-encoding': _, ...headers } = answer.headers;
    response.writeHead(answer.statusCode, { ...headers, 'content-length': body.length });
    response.end(body);
  }

  async function answer_api(asked, response, body) {
    const writes = asked.method === 'POST' && asked.url === '/api/entries';
    const fault = state.faults[0] === 'refuse' && !writes ? undefined : state.faults.shift();
    if (fault === 'cut_before') return asked.socket.destroy();
    if (fault === '500') return problem(response, 500, 'the machine failed');
    if (fault === 'refuse') return refuse(response, JSON.parse(body).entries);
    if (fault === 'slow') await new Promise((done) => setTimeout(done, kSlow_ms));
    pass_on(asked, response, body, (answer) => {
      if (fault === 'cut_after') return whole(answer, () => asked.socket.destroy());
      if (fault !== 'half') return response.writeHead(answer.statusCode, answer.headers), answer.pipe(response);
      whole(answer, (all) => {
        response.writeHead(answer.statusCode, { ...answer.headers, 'content-length': all.length });
        response.write(all.subarray(0, all.length / 2), () => asked.socket.destroy());
      });
    });
  }

  function refuse(response, entries) {
    const problems = [{ what: 'the book says no', file: '', line: 0, field: 'note', expected: 'other words', found: 'these' }];
    response.writeHead(200, { 'content-type': 'application/json' });
    response.end(JSON.stringify({ results: entries.map(({ id }) => ({ id, outcome: 'refused', problems })), change: 1 }));
  }

  function problem(response, status, title) {
    response.writeHead(status, { 'content-type': 'application/problem+json' });
    response.end(JSON.stringify({ type: 'about:blank', title, status, problems: [] }));
  }

  function answer_file(asked, response, body) {
    if (asked.url !== '/sw.js' || !state.newer) {
      return pass_on(asked, response, body, (answer) => (response.writeHead(answer.statusCode, answer.headers), answer.pipe(response)));
    }
    delete asked.headers['accept-encoding'];
    delete asked.headers['if-none-match'];
    pass_on(asked, response, body, (answer) => whole(answer, (all) => send_whole(response, answer, Buffer.concat([all, Buffer.from('\n// newer')]))));
  }

  const line = createServer((asked, response) => {
    whole(asked, (body) => {
      const of_api = asked.url.startsWith('/api/');
      if (of_api && state.api_down) return asked.socket.destroy();
      if (of_api) return answer_api(asked, response, body);
      answer_file(asked, response, body);
    });
  });
  await new Promise((done) => line.listen(0, '127.0.0.1', done));
  return {
    url: `http://127.0.0.1:${line.address().port}`,
    close: () => (line.closeAllConnections(), line.close()),
    fail: (...faults) => {
      state.faults = faults.filter((fault) => fault !== 'api_down');
      state.api_down = faults.includes('api_down');
      if (state.api_down) line.closeAllConnections();
    },
    /** From now on the app that is served is a newer one. */
    newer: () => (state.newer = true),
  };
}
