// Entries of the notebook as the phone makes them: what docs/notebook.md says of a line, in types.
// Knows nothing of the screen, of storing or of sending (outbox.ts, sender.ts).

import { make_uuid_v7 } from './uuid7';

export const kEntryKinds = [
  'weighed', 'measured', 'fed', 'refused', 'leftovers', 'regurgitated', 'in_shed', 'shed', 'droppings',
  'watered', 'spot_cleaned', 'full_cleaned', 'misted', 'reading', 'uv_reading', 'moved',
  'quarantine_started', 'quarantine_ended', 'brumation_started', 'brumation_ended', 'ill', 'recovered',
  'laid_eggs', 'checked', 'tested', 'used', 'disinfected', 'opened', 'replaced', 'done', 'note', 'struck',
] as const;
export type EntryKind = (typeof kEntryKinds)[number];

/** What an entry is about: a kind of record and its id; the room's id is "room". */
export interface Subject {
  kind: string;
  id: string;
}

/** What an entry may hold besides id, time, kind and subject. Quantities are texts with their unit. */
export interface EntryFields {
  mass?: string;
  length?: string;
  temperature?: string;
  humidity?: string;
  uvi?: string;
  count?: number;
  item?: string;
  note?: string;
  by?: string;
  target?: string;
  strikes?: string;
}

/** A line of the notebook. The subject stands under the name of its kind, as `"animal": "agate"`. */
export type Entry = { id: string; at: string; kind: EntryKind } & EntryFields & Record<string, string | number>;

export function make_entry(kind: EntryKind, subject: Subject, fields: EntryFields, at: Date, now: Date): Entry {
  const entry: Entry = { id: make_uuid_v7(now.getTime()), at: at.toISOString(), kind, [subject.kind]: subject.id };
  for (const [name, value] of Object.entries(fields)) {
    if (value !== undefined && value !== '') entry[name] = value;
  }
  return entry;
}

const kFieldNames = new Set([
  'id', 'at', 'kind', 'mass', 'length', 'temperature', 'humidity', 'uvi', 'count', 'item', 'note', 'by',
  'target', 'strikes',
]);

export function subject_of(entry: Entry): Subject {
  const kind = Object.keys(entry).find((name) => !kFieldNames.has(name));
  if (kind === undefined) throw new Error(`an entry about nothing: ${entry.id}`);
  return { kind, id: String(entry[kind]) };
}

/** The entry that takes one back: ink is struck, never rubbed out. */
export function make_strike(entry: Entry, now: Date): Entry {
  return make_entry('struck', subject_of(entry), { strikes: entry.id }, now, now);
}
