// The notebook as a list: by day, newest first, and what of it is asked for. Writing is
// entry_forms.ts.

import type { NotebookPage } from './api';
import { wall } from './dates';

export type NotebookEntry = NotebookPage['entries'][number];

/** What is asked for; an empty text: all. */
export interface NotebookQuery {
  text: string;
  subject_kind: string;
  subject: string;
  kind: string;
}

export const kNoFilter: NotebookQuery = { text: '', subject_kind: '', subject: '', kind: '' };

export function is_filtered(filter: NotebookQuery): boolean {
  return Object.values(filter).some((part) => part !== '');
}

/** As the API wants it: without what is empty; a thing only with its kind. */
export function filter_query(filter: NotebookQuery, before: string | null): Record<string, string> {
  const asked: Record<string, string | null> = {
    ...filter, text: filter.text.trim(), subject: filter.subject_kind ? filter.subject : '', before,
  };
  return Object.fromEntries(Object.entries(asked).filter((part): part is [string, string] => Boolean(part[1])));
}

/** The same among the entries that this phone has, for times without a signal. */
export function filtered(entries: NotebookEntry[], filter: NotebookQuery): NotebookEntry[] {
  const text = filter.text.trim().toLowerCase();
  return entries.filter(
    (one) =>
      (!filter.kind || one.kind === filter.kind) &&
      (!filter.subject_kind || one.subject_kind === filter.subject_kind) &&
      (!filter.subject_kind || !filter.subject || one.subject === filter.subject) &&
      (!text || `${one.text} ${one.note} ${one.subject_name}`.toLowerCase().includes(text)),
  );
}

export interface NotebookDay {
  date: string; // of the room's calendar
  entries: NotebookEntry[];
}

export function by_day(entries: NotebookEntry[], zone: string): NotebookDay[] {
  const days: NotebookDay[] = [];
  for (const entry of entries) {
    const { date } = wall(new Date(entry.at), zone);
    if (days.at(-1)?.date !== date) days.push({ date, entries: [] });
    days.at(-1)!.entries.push(entry);
  }
  return days;
}

/** Pages joined: an entry that came on both stands once. */
export function joined(first: NotebookEntry[], more: NotebookEntry[]): NotebookEntry[] {
  const known = new Set(first.map((one) => one.id));
  return [...first, ...more.filter((one) => !known.has(one.id))];
}

/** Struck entries and strikes stay as they are; everything else can be struck. */
export function can_be_struck(entry: NotebookEntry): boolean {
  return !entry.struck && entry.strikes === null && entry.kind !== 'struck';
}

/** The entry's words without its note, which stands on a line of its own, and without ids. */
export function words_of(entry: NotebookEntry): string {
  const end = `: ${entry.note}`;
  const words = entry.note !== '' && entry.text.endsWith(end) ? entry.text.slice(0, -end.length) : entry.text;
  // The id of what was struck says nothing to people.
  return entry.strikes ? words.replace(entry.strikes, '').trim() : words;
}
