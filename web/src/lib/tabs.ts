// Tells the other tabs of this device that something changed in the store, so that all show the same.

export type Telling = 'outbox' | 'round' | 'session';

export interface Tabs {
  tell(what: Telling): void;
}

export function join_tabs(hear: (what: Telling) => void): Tabs {
  if (!('BroadcastChannel' in globalThis)) return { tell: () => {} };
  const channel = new BroadcastChannel('warmside');
  channel.onmessage = (event: MessageEvent<Telling>) => hear(event.data);
  return { tell: (what) => channel.postMessage(what) };
}
