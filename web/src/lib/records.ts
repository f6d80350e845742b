// The records of the room: what they are called, and from a record to a form of texts and back. The
// kinds and their fields come from the server (/api/kinds), so a field that is new there is here too.
// What a field may hold is judged by the server; its problems are put beside their fields.

import type { components } from './api_types';
import type { Problem } from './api';
import { problem_words } from './api';

export type FieldKind = components['schemas']['FieldKind'];
export type RecordKind = components['schemas']['RecordKind'];
export type RecordKinds = components['schemas']['RecordKinds'];
export type RoomRecord = components['schemas']['Record'];
export type Records = components['schemas']['Records'];

/** A thing to choose: its id and what people call it. */
export interface Choice {
  id: string;
  name: string;
}

/** What people call a record: its name, its label, its title, else its id. */
export function record_name(record: RoomRecord): string {
  for (const field of ['name', 'common_name', 'label', 'title']) {
    if (typeof record[field] === 'string' && record[field] !== '') return String(record[field]);
  }
  return String(record['id'] ?? '');
}

/** More words for a list: what kind it is and where it is. */
export function record_detail(record: RoomRecord): string {
  const parts = ['kind', 'contents', 'species', 'group', 'key', 'value', 'mark', 'place', 'enclosure'].map((field) => record[field]);
  const words = parts.filter((part) => part !== undefined && part !== '').map((part) => String(part).replaceAll('_', ' '));
  return words.join(', ');
}

export function records_of(records: Records | null, kind: string): RoomRecord[] {
  if (!records) return [];
  return kind === 'room' ? [{ ...records.room, id: 'room' }] : (records.records[kind] ?? []);
}

/** The tag of a record as it was read; null: there is none. */
export function tag_of(records: Records | null, kind: string, id: string): string | null {
  return records?.tags?.[kind]?.[id] ?? null; // an answer that was kept long ago has no tags
}

/** The records of a kind, by name; those that left or were retired stand last. */
export function choices_of(records: Records | null, kind: string): Choice[] {
  return [...records_of(records, kind)]
    .sort((a, b) => Number(is_gone(a)) - Number(is_gone(b)) || record_name(a).localeCompare(record_name(b)))
    .map((one) => ({ id: String(one['id']), name: record_name(one) }));
}

export function is_gone(record: RoomRecord): boolean {
  return (record['left'] ?? record['retired'] ?? '') !== '';
}

/** Names of everything, under "kind id". */
export function names_of(records: Records | null): Map<string, string> {
  const names = new Map<string, string>();
  for (const [kind, list] of Object.entries(records?.records ?? {})) {
    for (const one of list) names.set(`${kind} ${String(one['id'])}`, record_name(one));
  }
  return names;
}

/** A record as texts, one for each field of its kind; empty: not known. */
export type RecordForm = Record<string, string>;

export function form_of(kind: RecordKind, record: RoomRecord): RecordForm {
  return Object.fromEntries(kind.fields.map((field) => [field.name, record[field.name] === undefined ? '' : String(record[field.name])]));
}

/**
 * The record of a form. What is empty is left out; a number that cannot be read goes as text, so that
 * the server says what is wrong with it. Fields of `before` that the kind does not list stay.
 */
export function record_of(kind: RecordKind, form: RecordForm, id: string, before: RoomRecord = {}): RoomRecord {
  const listed = new Set(kind.fields.map((field) => field.name));
  const record: RoomRecord = Object.fromEntries(Object.entries(before).filter(([name]) => !listed.has(name)));
  if (kind.kind === 'room') delete record['id'];
  else record['id'] = id;
  for (const field of kind.fields) {
    const text = (form[field.name] ?? '').trim();
    if (text !== '') record[field.name] = field_value(field, text);
  }
  return record;
}

function field_value(field: FieldKind, text: string): string | number | boolean {
  if (field.form === 'yes_no') return text === 'true';
  if (field.form === 'number' || field.form === 'whole') {
    const plain = text.replace('\u2212', '-').replace(',', '.');
    return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : text;
  }
  return text;
}

export interface PlacedProblems {
  at: Record<string, string>; // field to words
  other: string[]; // of no field of the form
}

/** Problems beside their fields: the server names them as "animal newt.born". */
export function placed(problems: Problem[], kind: string, id: string, fields: readonly string[]): PlacedProblems {
  const result: PlacedProblems = { at: {}, other: [] };
  const lead = kind === 'room' ? /^room(?: room)?\./ : new RegExp(`^${kind} ${id}\\.`);
  for (const problem of problems) {
    const field = problem.field.replace(lead, '');
    if (fields.includes(field)) {
      const words = problem_words({ ...problem, field: '' });
      result.at[field] = result.at[field] ? `${result.at[field]}. ${words}` : words;
    } else {
      result.other.push(problem_words(problem));
    }
  }
  return result;
}

const kLongestId = 64;
// Letters that do not come apart into a plain one and a mark.
const kPlain: Record<string, string> = { 'ß': 'ss', 'æ': 'ae', 'ø': 'o', 'œ': 'oe', 'ł': 'l', 'đ': 'd', 'ð': 'd', 'þ': 'th' };

/** An id from a name, as the room file wants it, that is not taken yet. */
export function id_from(name: string, taken: ReadonlySet<string>): string {
  const letters = name.toLowerCase().replace(/[ßæøœłđðþ]/g, (letter) => kPlain[letter] ?? '');
  const plain = letters.normalize('NFKD').replace(/\p{M}/gu, '').replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '');
  const base = (plain || 'new').slice(0, kLongestId - 4).replace(/-+$/, '');
  if (!taken.has(base)) return base;
  let n = 2;
  while (taken.has(`${base}-${n}`)) ++n;
  return `${base}-${n}`;
}

export function id_is_good(id: string): boolean {
  return /^[a-z0-9][a-z0-9_-]{0,63}$/.test(id);
}
