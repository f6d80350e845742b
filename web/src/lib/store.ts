// The one IndexedDB database of the app: what waits to be sent, what was ticked today, answers kept
// for when the server is out of reach, and who may send. Opened here and nowhere else.
// It is data of this phone only: the book itself is never here.

import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { Problem } from './api';
import type { Entry } from './entries';

/** An entry on this phone that the book has not confirmed. */
export interface Waiting {
  order: number; // given by the store, rising: the order of writing, whatever the clock says
  id: string; // the entry's
  entry: Entry;
  label: string; // in people's words
  who: string; // the name that was signed in when it was written; may be empty
  refused: Problem[] | null; // null: waiting; else why the book does not take it
}

/** That a task was dealt with on this phone, or was and has been taken back. */
export interface Tick {
  key: string; // task_key() of round.ts
  date: string; // the round's
  entries: Entry[]; // that settle it; once undone those that strike them
  label: string;
  undone: boolean;
  confirmed_at: number | null; // device clock, ms; null: the book has not confirmed all its entries
}

/** An answer of the server, kept. */
export interface Kept {
  name: string;
  value: unknown;
  as_of: string; // RFC 3339, device clock
}

export interface Lease {
  name: 'sender';
  holder: string;
  until: number; // device clock, ms
}

interface Schema extends DBSchema {
  waiting: { key: number; value: Waiting; indexes: { id: string } };
  ticks: { key: string; value: Tick };
  kept: { key: string; value: Kept };
  lease: { key: string; value: Lease };
}
export type Store = IDBPDatabase<Schema>;

export function open_store(name = 'warmside'): Promise<Store> {
  return openDB<Schema>(name, 1, {
    upgrade(db) {
      const waiting = db.createObjectStore('waiting', { keyPath: 'order', autoIncrement: true });
      waiting.createIndex('id', 'id', { unique: true });
      db.createObjectStore('ticks', { keyPath: 'key' });
      db.createObjectStore('kept', { keyPath: 'name' });
      db.createObjectStore('lease', { keyPath: 'name' });
    },
    // Another tab wants a newer form of the store: let go, or it waits for ever.
    blocking(_current, _wanted, event) {
      (event.target as IDBDatabase).close();
    },
  });
}
