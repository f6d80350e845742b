// Sends what waits in the outbox, in order, one batch at a time, from one tab at a time. Called on
// every save, when the line or the page comes back, and every half minute while the app is open; it
// may be called as often as one likes. It never drops an entry: only apply_results of outbox.ts does,
// on the book's word.

import type { Answer, EntryResults } from './api';
import type { Entry } from './entries';
import { apply_results, mark_refused, next_batch } from './outbox';
import type { Lease, Store } from './store';

export type SendState = 'all_sent' | 'another_tab' | 'not_reachable' | 'sign_in' | 'busy';

export interface Sending {
  store: Store;
  post: (entries: Entry[]) => Promise<Answer<EntryResults>>;
  now: () => Date;
  locks: LockManager | undefined; // absent without a secure context
  holder: string; // names this tab in the lease
  on_progress: () => void; // something left the outbox, or was refused
}

// Small, so that a thin line gets something through; the API takes 200.
const kBatch = 50;
// Longer than one patient call of api.ts, or another tab would start beside a slow one.
const kLease_ms = 30_000;

export async function send_waiting(sending: Sending): Promise<SendState> {
  if (sending.locks) {
    return sending.locks.request('warmside-sender', { ifAvailable: true }, (lock) =>
      lock ? send_all(sending, async () => true) : 'another_tab',
    ) as Promise<SendState>;
  }
  const renew = () => take_lease(sending.store, sending.holder, sending.now().getTime());
  if (!(await renew())) return 'another_tab';
  try {
    return await send_all(sending, renew);
  } finally {
    await drop_lease(sending.store, sending.holder);
  }
}

async function send_all(sending: Sending, still_ours: () => Promise<boolean>): Promise<SendState> {
  let alone = 0; // so many are sent one by one, since a batch with them was refused as a whole
  for (;;) {
    if (!(await still_ours())) return 'another_tab';
    const batch = await next_batch(sending.store, alone > 0 ? 1 : kBatch);
    if (batch.length === 0) return 'all_sent';
    const answer = await sending.post(batch.map((one) => one.entry));
    if (answer.ok) {
      const results: unknown = answer.value?.results;
      const spoken_of = Array.isArray(results)
        ? await apply_results(sending.store, batch, results as EntryResults['results'], sending.now())
        : 0;
      // An answer that speaks of none of them would be asked for without end.
      if (spoken_of === 0) return 'busy';
    } else if (answer.trouble.kind === 'not_reachable' || answer.trouble.kind === 'sign_in' || answer.trouble.kind === 'busy') {
      return answer.trouble.kind;
    } else if (batch.length > 1) {
      alone = batch.length + 1; // one of them is bad: find out which
    } else {
      const problems = answer.trouble.kind === 'refused' ? answer.trouble.problems : [kNotAllowed];
      await mark_refused(sending.store, batch[0]!, problems);
    }
    if (alone > 0) --alone;
    sending.on_progress();
  }
}

const kNotAllowed = {
  what: 'not for your role', file: '', line: 0, field: '', found: '',
  expected: 'to be signed in as a keeper',
};

/** Takes or renews the lease; false: another tab holds it. */
export async function take_lease(store: Store, holder: string, now_ms: number): Promise<boolean> {
  const change = store.transaction('lease', 'readwrite');
  const old: Lease | undefined = await change.store.get('sender');
  // A lease that ends too far ahead was made before the clock was set back.
  const held = old && old.holder !== holder && old.until > now_ms && old.until <= now_ms + kLease_ms;
  if (!held) await change.store.put({ name: 'sender', holder, until: now_ms + kLease_ms });
  await change.done;
  return !held;
}

export async function drop_lease(store: Store, holder: string): Promise<void> {
  const change = store.transaction('lease', 'readwrite');
  if ((await change.store.get('sender'))?.holder === holder) await change.store.delete('sender');
  await change.done;
}
