// What of an entry that the book refused can be mended by hand before it is sent again. Its id stays,
// since the book has it not; what it is about stays too: another thing wants another entry.

import type { Entry } from './entries';

export const kMendable = ['mass', 'length', 'temperature', 'humidity', 'uvi', 'count', 'item', 'note', 'target'] as const;
export type MendableName = (typeof kMendable)[number];

export interface MendField {
  name: MendableName;
  value: string;
}

/** The fields that the entry has, as text, and the remark. */
export function editable_fields(entry: Entry): MendField[] {
  return kMendable
    .filter((name) => entry[name] !== undefined || name === 'note')
    .map((name) => ({ name, value: String(entry[name] ?? '') }));
}

/** The entry with the fields as they are now; an emptied field is left out. `at` null: as it was. */
export function mended(entry: Entry, fields: MendField[], at: Date | null): Entry {
  const result: Entry = { ...entry };
  for (const { name, value } of fields) {
    const text = value.trim();
    if (text === '') delete result[name];
    else if (name === 'count') result[name] = Number(text);
    else result[name] = text;
  }
  if (at) result.at = at.toISOString();
  return result;
}
