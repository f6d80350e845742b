// For tests: a book behind a bad line. It stores an entry once, remembers in which order they came
// first, and fails as it is told.

import type { Answer, EntryResults } from './api';
import type { Entry } from './entries';

export type Fault =
  | 'none'
  | 'cut_before' // the line is cut before the book hears
  | 'cut_after' // the book stores, and its answer is lost
  | 'half' // the answer is cut short: it speaks of some only
  | 'busy' // 429 or 5xx
  | 'empty' // an answer that says nothing
  | 'sign_in';

export class FakeBook {
  readonly order: string[] = [];
  posts = 0;
  refuses: (entry: Entry) => boolean = () => false;
  /** Refuses the whole batch where one of it is such, as a server does that cannot read it. */
  unreadable: (entry: Entry) => boolean = () => false;
  next_fault: () => Fault = () => 'none';
  /** Runs while an answer is on its way. */
  meanwhile: () => Promise<void> = async () => {};

  async post(entries: Entry[]): Promise<Answer<EntryResults>> {
    ++this.posts;
    const fault = this.next_fault();
    await this.meanwhile();
    if (fault === 'cut_before') return { ok: false, trouble: { kind: 'not_reachable' } };
    if (fault === 'busy') return { ok: false, trouble: { kind: 'busy' } };
    if (fault === 'sign_in') return { ok: false, trouble: { kind: 'sign_in' } };
    if (entries.some((entry) => this.unreadable(entry))) {
      return { ok: false, trouble: { kind: 'refused', status: 400, problems: [problem('cannot be read')] } };
    }
    const results = entries.map((entry) => this.store(entry));
    if (fault === 'cut_after') return { ok: false, trouble: { kind: 'not_reachable' } };
    if (fault === 'empty') return { ok: true, value: {} as EntryResults };
    if (fault === 'half') return { ok: true, value: { results: results.slice(0, Math.floor(results.length / 2)), change: 1 } };
    return { ok: true, value: { results, change: 1 } };
  }

  private store(entry: Entry): EntryResults['results'][number] {
    if (this.refuses(entry)) return { id: entry.id, outcome: 'refused', problems: [problem('not so')] };
    if (this.order.includes(entry.id)) return { id: entry.id, outcome: 'before', problems: [] };
    this.order.push(entry.id);
    return { id: entry.id, outcome: 'stored', problems: [] };
  }
}

function problem(what: string) {
  return { what, file: '', line: 0, field: '', expected: '', found: '' };
}

/** A generator of numbers below 1 with a seed: mulberry32 (Tommy Ettinger, 2017, public domain). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
