// What this phone has written and the book has not confirmed. An entry is here before anything on
// the screen calls it saved; it goes when the book says that it holds it, or when the keeper throws
// a refused one away. Nothing here expires, whatever the clock says. Sending is sender.ts.

import type { EntryResults, Problem } from './api';
import { make_strike, type Entry } from './entries';
import type { Store, Tick, Waiting } from './store';

/** An entry with its words for people. */
export interface Written {
  entry: Entry;
  label: string;
}

/** Entries that belong together, and the tick of the task that they settle. */
export interface Writing {
  written: Written[];
  tick: { key: string; date: string; label: string } | null;
}

/** Puts entries at the end, all or none, on the disk before it returns. */
export async function put_entries(store: Store, writings: Writing[], who: string): Promise<void> {
  const change = store.transaction(['waiting', 'ticks'], 'readwrite', { durability: 'strict' });
  for (const { written, tick } of writings) {
    for (const { entry, label } of written) await add_waiting(change.objectStore('waiting'), entry, label, who);
    if (!tick) continue;
    const entries = written.map((one) => one.entry);
    await change.objectStore('ticks').put({ ...tick, entries, undone: false, confirmed_at: null });
  }
  await change.done;
}

/** The store gives the order. */
async function add_waiting(
  waiting: { add(one: Waiting): Promise<unknown> }, entry: Entry, label: string, who: string,
): Promise<void> {
  await waiting.add({ id: entry.id, entry, label, who, refused: null } as Omit<Waiting, 'order'> as Waiting);
}

/** Takes a ticked task back. */
export async function undo_tick(store: Store, key: string, who: string, label: string, now: Date): Promise<void> {
  const change = store.transaction(['waiting', 'ticks'], 'readwrite', { durability: 'strict' });
  const ticks = change.objectStore('ticks');
  const tick = await ticks.get(key);
  if (tick && !tick.undone) {
    const strikes = await strike(change.objectStore('waiting'), tick.entries, who, label, now);
    await ticks.put({ ...tick, entries: strikes, undone: true, confirmed_at: null });
  }
  await change.done;
}

/** Takes entries back that no task rests on. */
export async function undo_entries(store: Store, entries: Entry[], who: string, label: string, now: Date): Promise<void> {
  const change = store.transaction('waiting', 'readwrite', { durability: 'strict' });
  await strike(change.store, entries, who, label, now);
  await change.done;
}

interface WaitingStore {
  add(one: Waiting): Promise<unknown>;
  delete(order: number): Promise<void>;
  index(name: 'id'): { get(id: string): Promise<Waiting | undefined> };
}

/** What may have reached the book is struck by new entries; what it refused was never in it and goes. */
async function strike(waiting: WaitingStore, entries: Entry[], who: string, label: string, now: Date): Promise<Entry[]> {
  const strikes: Entry[] = [];
  for (const entry of entries) {
    const there = await waiting.index('id').get(entry.id);
    if (there?.refused) {
      await waiting.delete(there.order);
      continue;
    }
    const one = make_strike(entry, now);
    strikes.push(one);
    await add_waiting(waiting, one, label, who);
  }
  return strikes;
}

/** Forgets ticks that hold no more, but for those that have changed meanwhile. */
export async function drop_ticks(store: Store, gone: Tick[]): Promise<void> {
  const change = store.transaction('ticks', 'readwrite');
  for (const tick of gone) {
    const there = await change.store.get(tick.key);
    if (there?.confirmed_at === tick.confirmed_at && there.undone === tick.undone) await change.store.delete(tick.key);
  }
  await change.done;
}

export async function all_waiting(store: Store): Promise<Waiting[]> {
  return store.getAll('waiting');
}

/** The first entries that are to be sent, in the order of writing. */
export async function next_batch(store: Store, size: number): Promise<Waiting[]> {
  const batch: Waiting[] = [];
  let cursor = await store.transaction('waiting').store.openCursor();
  while (cursor && batch.length < size) {
    if (cursor.value.refused === null) batch.push(cursor.value);
    cursor = await cursor.continue();
  }
  return batch;
}

/**
 * Applies what the server said of a batch: confirmed entries go, refused ones stay with the reason;
 * of what it did not speak nothing changes. Returns how many it spoke of.
 */
export async function apply_results(
  store: Store,
  batch: Waiting[],
  results: EntryResults['results'],
  now: Date,
): Promise<number> {
  const change = store.transaction(['waiting', 'ticks'], 'readwrite', { durability: 'strict' });
  const waiting = change.objectStore('waiting');
  const complete = results.length === batch.length;
  let spoken_of = 0;
  for (const [i, sent] of batch.entries()) {
    // An answer about an entry whose id could not be read stands at its place.
    const at_place = complete && results[i]?.id === '' ? results[i] : undefined;
    const result = results.find((one) => one.id === sent.id) ?? at_place;
    if (!result) continue;
    if (result.outcome === 'stored' || result.outcome === 'before') {
      await waiting.delete(sent.order);
    } else if (result.outcome === 'refused') {
      await waiting.put({ ...sent, refused: result.problems });
    } else {
      continue;
    }
    ++spoken_of;
  }
  await confirm_ticks(change.objectStore('ticks'), waiting, now);
  await change.done;
  return spoken_of;
}

/** A tick is confirmed when the book holds each of its entries. */
async function confirm_ticks(
  ticks: { getAll(): Promise<Tick[]>; put(tick: Tick): Promise<unknown> },
  waiting: { index(name: 'id'): { getKey(id: string): Promise<number | undefined> } },
  now: Date,
): Promise<void> {
  for (const tick of await ticks.getAll()) {
    if (tick.confirmed_at !== null) continue;
    const open = await Promise.all(tick.entries.map((entry) => waiting.index('id').getKey(entry.id)));
    if (open.every((order) => order === undefined)) await ticks.put({ ...tick, confirmed_at: now.getTime() });
  }
}

/** Marks one entry as refused, with the reason. */
export async function mark_refused(store: Store, sent: Waiting, problems: Problem[]): Promise<void> {
  await store.put('waiting', { ...sent, refused: problems });
}

/** Puts a refused entry, mended, back to be sent, at its old place in the order. */
export async function send_again(store: Store, order: number, entry: Entry): Promise<void> {
  const change = store.transaction('waiting', 'readwrite', { durability: 'strict' });
  const old = await change.store.get(order);
  if (old) await change.store.put({ ...old, entry: { ...entry, id: old.id }, refused: null });
  await change.done;
}

/** Throws a refused entry away, and the tick that rests on it: its task is open again. */
export async function discard(store: Store, order: number): Promise<void> {
  const change = store.transaction(['waiting', 'ticks'], 'readwrite', { durability: 'strict' });
  const old = await change.objectStore('waiting').get(order);
  if (old?.refused) {
    await change.objectStore('waiting').delete(order);
    const ticks = change.objectStore('ticks');
    for (const tick of await ticks.getAll()) {
      if (tick.entries.some((entry) => entry.id === old.id)) await ticks.delete(tick.key);
    }
  }
  await change.done;
}

/** What waits, as a notebook file that `warmside import` reads: the way out when all else fails. */
export function as_notebook_file(waiting: Waiting[]): string {
  return waiting.map((one) => `${JSON.stringify(one.entry)}\n`).join('');
}
