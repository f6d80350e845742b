// Answers kept on this phone, so that a page opens without a signal and says from when its figures
// are. A page calls `load` with a name and a way to ask the server; it gets what is kept at once and
// what the server says when it comes.

import { answer_of, type Answer, type Trouble } from './api';
import type { Store } from './store';

export interface Loaded<T> {
  value: T | null;
  as_of: string | null; // RFC 3339: when the server said so
  trouble: Trouble | null; // why it is not newer; null: it is what the server says now
  loading: boolean;
}

export const kNothingYet: Loaded<never> = { value: null, as_of: null, trouble: null, loading: true };

export async function read_kept<T>(store: Store, name: string): Promise<{ value: T; as_of: string } | null> {
  const kept = await store.get('kept', name);
  return kept ? { value: kept.value as T, as_of: kept.as_of } : null;
}

export async function keep(store: Store, name: string, value: unknown, now: Date): Promise<void> {
  await store.put('kept', { name, value, as_of: now.toISOString() });
}

/**
 * Shows first what is kept, then what the server says. `call` is a call of `api`; `show` is called
 * at most twice.
 */
export async function load<T>(
  store: Store,
  name: string,
  call: () => Parameters<typeof answer_of<T>>[0],
  show: (loaded: Loaded<T>) => void,
): Promise<void> {
  const kept = await read_kept<T>(store, name);
  if (kept) show({ ...kept, trouble: null, loading: true });
  const answer: Answer<T> = await answer_of<T>(call());
  if (!answer.ok) {
    show({ value: kept?.value ?? null, as_of: kept?.as_of ?? null, trouble: answer.trouble, loading: false });
    return;
  }
  const now = new Date();
  show({ value: answer.value, as_of: now.toISOString(), trouble: null, loading: false });
  await keep(store, name, answer.value, now);
}
