import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, it } from 'vitest';
import { make_entry, type Entry } from './entries';
import { FakeBook, seeded, type Fault } from './fake_book';
import { all_waiting, discard, drop_ticks, put_entries, send_again, undo_tick } from './outbox';
import { send_waiting, take_lease, type SendState } from './sender';
import { open_store, type Store } from './store';

let store: Store;
let book: FakeBook;
let now_ms = Date.parse('2026-11-30T06:00:00Z');
let stores = 0;

beforeEach(async () => {
  store = await open_store(`test-${++stores}`);
  book = new FakeBook();
});

function entry(n: number): Entry {
  return make_entry('watered', { kind: 'enclosure', id: `tub-${n}` }, {}, new Date(now_ms), new Date(now_ms));
}

async function write(...numbers: number[]): Promise<string[]> {
  const entries = numbers.map(entry);
  await put_entries(store, [{ written: entries.map((one) => ({ entry: one, label: one.id })), tick: null }], 'keeper');
  return entries.map((one) => one.id);
}

function send(holder = 'tab', from = store): Promise<SendState> {
  return send_waiting({
    store: from, post: (entries) => book.post(entries), now: () => new Date(now_ms),
    locks: undefined, holder, on_progress: () => {},
  });
}

async function ids_waiting(): Promise<string[]> {
  return (await all_waiting(store)).map((one) => one.id);
}

function faults(...list: Fault[]): void {
  book.next_fault = () => list.shift() ?? 'none';
}

describe('sending', () => {
  it('sends in the order of writing and empties the outbox', async () => {
    const ids = await write(1, 2, 3);
    expect(await send()).toBe('all_sent');
    expect(book.order).toEqual(ids);
    expect(await ids_waiting()).toEqual([]);
  });

  it('sends more than a batch in several', async () => {
    const ids = await write(...Array.from({ length: 120 }, (_, n) => n));
    expect(await send()).toBe('all_sent');
    expect(book.order).toEqual(ids);
    expect(book.posts).toBe(3);
  });

  it.each<[Fault, SendState]>([
    ['cut_before', 'not_reachable'], ['cut_after', 'not_reachable'], ['busy', 'busy'], ['empty', 'busy'], ['sign_in', 'sign_in'],
  ])('keeps all after %s, and stores each once at the next try', async (fault, state) => {
    const ids = await write(1, 2);
    faults(fault);
    expect(await send()).toBe(state);
    expect(await ids_waiting()).toEqual(ids);
    expect(await send()).toBe('all_sent');
    expect(book.order).toEqual(ids);
  });

  it('takes from half an answer what it says, and asks again for the rest', async () => {
    const ids = await write(1, 2, 3, 4);
    faults('half', 'cut_before');
    expect(await send()).toBe('not_reachable');
    expect(await ids_waiting()).toEqual(ids.slice(2));
    await send();
    expect(book.order).toEqual(ids);
  });

  it('keeps what is refused with the reason, and goes on behind it', async () => {
    const ids = await write(1, 2, 3);
    book.refuses = (one) => one.id === ids[1];
    expect(await send()).toBe('all_sent');
    expect(book.order).toEqual([ids[0], ids[2]]);
    const [left] = await all_waiting(store);
    expect(left?.id).toBe(ids[1]);
    expect(left?.refused?.[0]?.what).toBe('not so');
    const posts = book.posts;
    await send();
    expect(book.posts).toBe(posts); // it is not sent again by itself
  });

  it('finds the one entry for which a whole batch is refused', async () => {
    const ids = await write(1, 2, 3, 4, 5);
    book.unreadable = (one) => one.id === ids[2];
    expect(await send()).toBe('all_sent');
    expect(book.order).toEqual([ids[0], ids[1], ids[3], ids[4]]);
    expect((await all_waiting(store)).map((one) => [one.id, one.refused?.[0]?.what])).toEqual([[ids[2], 'cannot be read']]);
  });

  it('goes by the ids of an answer, not by their places', async () => {
    const ids = await write(1, 2, 3);
    book.refuses = (one) => one.id === ids[0];
    const post = book.post.bind(book);
    book.post = async (entries) => {
      const answer = await post(entries);
      if (answer.ok) answer.value.results.reverse();
      return answer;
    };
    await send();
    expect((await all_waiting(store)).map((one) => one.id)).toEqual([ids[0]]);
  });

  it('goes by the place where the book could not read an id', async () => {
    const ids = await write(1, 2, 3);
    book.refuses = (one) => one.id === ids[1];
    const post = book.post.bind(book);
    book.post = async (entries) => {
      const answer = await post(entries);
      if (answer.ok) for (const one of answer.value.results) if (one.outcome === 'refused') one.id = '';
      return answer;
    };
    await send();
    expect((await all_waiting(store)).map((one) => [one.id, one.refused?.[0]?.what])).toEqual([[ids[1], 'not so']]);
  });

  it('goes back to batches behind a batch that was refused as a whole', async () => {
    const ids = await write(...Array.from({ length: 60 }, (_, n) => n));
    book.unreadable = (one) => one.id === ids[0];
    await send();
    expect(book.order).toHaveLength(59);
    expect(book.posts).toBe(1 + 50 + 1); // the batch of 50, each of it alone, the last 10
  });

  it('sends a mended entry under its old id and throws a discarded one away', async () => {
    const ids = await write(1, 2);
    book.refuses = () => true;
    await send();
    const [first, second] = await all_waiting(store);
    await send_again(store, first!.order, { ...first!.entry, note: 'mended' });
    await discard(store, second!.order);
    book.refuses = () => false;
    await send();
    expect(book.order).toEqual([ids[0]]);
    expect(await ids_waiting()).toEqual([]);
  });

  it('never throws away what is not refused', async () => {
    const ids = await write(1);
    const [only] = await all_waiting(store);
    await discard(store, only!.order);
    expect(await ids_waiting()).toEqual(ids);
  });

  it('takes up what is written while an answer is on its way', async () => {
    const first = await write(1);
    let later: string[] = [];
    book.meanwhile = async () => {
      book.meanwhile = async () => {};
      later = await write(2);
    };
    expect(await send()).toBe('all_sent');
    expect(book.order).toEqual([...first, ...later]);
  });
});

describe('two tabs', () => {
  it('lets one send at a time', async () => {
    await write(1, 2, 3);
    const other = await open_store(store.name);
    const states = await Promise.all([send('tab-a'), send('tab-b', other)]);
    expect(states.sort()).toEqual(['all_sent', 'another_tab']);
    expect(book.posts).toBe(1);
    other.close();
  });

  it('takes over a lease that ran out, or that was made before the clock was set back', async () => {
    expect(await take_lease(store, 'tab-a', 1_000_000)).toBe(true);
    expect(await take_lease(store, 'tab-b', 1_010_000)).toBe(false);
    expect(await take_lease(store, 'tab-b', 1_031_000)).toBe(true);
    expect(await take_lease(store, 'tab-a', 5_000)).toBe(true);
  });

  it('uses the browser\'s locks where there are some', async () => {
    await write(1);
    const locks = { request: async (_name: string, _options: object, run: (lock: null) => unknown) => run(null) };
    const state = await send_waiting({
      store, post: (entries) => book.post(entries), now: () => new Date(now_ms),
      locks: locks as unknown as LockManager, holder: 'tab', on_progress: () => {},
    });
    expect(state).toBe('another_tab');
    expect(book.posts).toBe(0);
  });
});

describe('undo', () => {
  it('strikes what the book may have, in order', async () => {
    const one = entry(1);
    const tick = { key: 'water|1', date: '2026-11-30', label: 'water' };
    await put_entries(store, [{ written: [{ entry: one, label: 'water' }], tick }], '');
    await undo_tick(store, tick.key, '', 'undo', new Date(now_ms));
    await undo_tick(store, tick.key, '', 'undo', new Date(now_ms)); // a second tap changes nothing
    const entries = (await all_waiting(store)).map((waiting) => waiting.entry);
    expect(entries).toHaveLength(2);
    expect(entries[1]).toMatchObject({ kind: 'struck', strikes: one.id, enclosure: 'tub-1' });
    await send();
    expect((await store.get('ticks', tick.key))?.confirmed_at).toBe(now_ms);
  });

  it('takes out what the book refused', async () => {
    const one = entry(1);
    const tick = { key: 'water|1', date: '2026-11-30', label: 'water' };
    await put_entries(store, [{ written: [{ entry: one, label: 'water' }], tick }], '');
    book.refuses = () => true;
    await send();
    await undo_tick(store, tick.key, '', 'undo', new Date(now_ms));
    expect(await ids_waiting()).toEqual([]);
  });

  it('forgets a tick unless it was ticked anew', async () => {
    const tick = { key: 'water|1', date: '2026-11-30', label: 'water' };
    const tick_it = () => put_entries(store, [{ written: [{ entry: entry(1), label: 'water' }], tick }], '');
    await tick_it();
    await send();
    const gone = await store.getAll('ticks');
    await tick_it();
    await drop_ticks(store, gone);
    expect(await store.getAll('ticks')).toMatchObject([{ key: tick.key, confirmed_at: null }]);
    await send();
    await drop_ticks(store, await store.getAll('ticks'));
    expect(await store.getAll('ticks')).toEqual([]);
  });
});

// Two tabs write and send over a line that is cut a thousand times and more; clocks jump; some entries
// are refused. What must hold: each entry is in the book once or in the outbox as refused, and the
// book got them in the order of writing.
describe('a thousand cuts', () => {
  it.each([20261130])('lose nothing, double nothing, keep the order (seed %i)', async (seed) => {
    const random = seeded(seed);
    const other = await open_store(store.name);
    const kFaults: Fault[] = ['cut_before', 'cut_after', 'half', 'busy', 'empty', 'sign_in'];
    const written: string[] = [];
    let cuts = 0;
    let n = 0;
    book.next_fault = () => {
      if (random() < 0.25) return 'none';
      const fault = kFaults[Math.floor(random() * kFaults.length)]!;
      if (fault === 'cut_before' || fault === 'cut_after' || fault === 'half') ++cuts;
      return fault;
    };
    const is_bad = (one: Entry) => Number(String(one['enclosure']).slice(4)) % 17 === 0;
    const is_unreadable = (one: Entry) => Number(String(one['enclosure']).slice(4)) % 23 === 0;
    book.refuses = is_bad;
    book.unreadable = is_unreadable;
    const good: string[] = [];
    while (cuts < 1000) {
      const numbers = Array.from({ length: 1 + Math.floor(random() * 3) }, () => ++n);
      const ids = await write(...numbers);
      written.push(...ids);
      good.push(...ids.filter((_, i) => numbers[i]! % 17 !== 0 && numbers[i]! % 23 !== 0));
      now_ms += Math.floor((random() - 0.3) * 60_000); // the clock goes on, and now and then back
      await Promise.all([send('tab-a'), ...(random() < 0.5 ? [send('tab-b', other)] : [])]);
    }
    book.next_fault = () => 'none';
    now_ms += 60_000;
    expect(await send()).toBe('all_sent');
    expect(book.order).toEqual(good);
    const left = await all_waiting(store);
    expect(left.every((one) => one.refused !== null)).toBe(true);
    expect(new Set([...book.order, ...left.map((one) => one.id)])).toEqual(new Set(written));
    expect(book.order.length + left.length).toBe(written.length);
    other.close();
  }, 120_000);
});
