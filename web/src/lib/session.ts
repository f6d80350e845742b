// Who is signed in, and what the app needs to start. Kept on this phone, so that the app opens
// without a signal; the server decides anew with every call.

import { answer_of, api, type Answer, type Session } from './api';
import { as_asked } from './first_answers';
import { keep, read_kept } from './kept';
import type { Store } from './store';

export type Role = NonNullable<Session['role']>;

const kName = 'session';

export async function kept_session(store: Store): Promise<Session | null> {
  return (await read_kept<Session>(store, kName))?.value ?? null;
}

/** `asked`: the server's answer, where it was asked before. */
export function ask_session(asked?: Promise<Response>): Promise<Answer<Session>> {
  return answer_of(api.GET('/api/session', as_asked(asked)));
}

/** A page that is signed out tells nothing of the room: what is kept stays until the keeper signs out. */
export async function keep_session(store: Store, session: Session): Promise<void> {
  if (session.signed_in) await keep(store, kName, session, new Date());
}

export async function sign_in(store: Store, name: string, passphrase: string): Promise<Answer<Session>> {
  const answer = await answer_of(api.POST('/api/session', { body: { name, passphrase } }));
  if (answer.ok) await keep_session(store, answer.value);
  return answer;
}

/**
 * Signs out, and forgets what this phone kept of the room. Entries that wait to be sent stay: only
 * the book's word or the keeper's own removes one.
 */
export async function sign_out(store: Store): Promise<Answer<unknown>> {
  const answer = await answer_of(api.DELETE('/api/session'));
  if (answer.ok) await store.clear('kept');
  return answer;
}

/** Forgets everything on this phone, what waits included. The page asks twice before. */
export async function clear_phone(store: Store): Promise<void> {
  const change = store.transaction(['waiting', 'ticks', 'kept', 'lease'], 'readwrite');
  await Promise.all([...change.objectStoreNames].map((name) => change.objectStore(name).clear()));
  await change.done;
}
