import { describe, expect, it } from 'vitest';
import { by_day, can_be_struck, filter_query, filtered, joined, kNoFilter, words_of, type NotebookEntry } from './notebook';

function entry(id: string, at: string, more: Partial<NotebookEntry> = {}): NotebookEntry {
  return {
    id, at, kind: 'weighed', subject_kind: 'animal', subject: 'agate', subject_name: 'Agate', text: 'weighed 71 g',
    by: '', note: '', struck: false, strikes: null, ...more,
  };
}

describe('the notebook', () => {
  it('stands by days of the room, not of Greenwich', () => {
    // Oslo is an hour ahead of UTC in winter: 23:30 UTC is half past midnight of the next day.
    const days = by_day([entry('b', '2026-11-24T23:30:00Z'), entry('a', '2026-11-24T22:30:00Z')], 'Europe/Oslo');
    expect(days.map((day) => [day.date, day.entries.length])).toEqual([['2026-11-25', 1], ['2026-11-24', 1]]);
  });
  it('asks only for what is not empty', () => {
    expect(filter_query(kNoFilter, null)).toEqual({});
    expect(filter_query({ text: ' mites ', subject_kind: 'animal', subject: 'agate', kind: 'checked' }, '120')).toEqual({
      text: 'mites', subject_kind: 'animal', subject: 'agate', kind: 'checked', before: '120',
    });
    expect(filter_query({ ...kNoFilter, subject: 'agate' }, null)).toEqual({});
  });
  it('is searched without a signal too', () => {
    const all = [entry('a', '2026-11-24T22:30:00Z', { note: 'Shiny' }), entry('b', '2026-11-24T22:30:00Z', { kind: 'fed', text: 'fed 2 x cricket' })];
    const ids = (filter: Partial<typeof kNoFilter>) => filtered(all, { ...kNoFilter, ...filter }).map((one) => one.id);
    expect(ids({ text: 'shiny' })).toEqual(['a']);
    expect(ids({ kind: 'fed' })).toEqual(['b']);
    expect(ids({ subject_kind: 'animal', subject: 'moss' })).toEqual([]);
    expect(ids({ text: 'agate' })).toEqual(['a', 'b']);
  });
  it('joins pages without doubling', () => {
    const [a, b, c] = ['a', 'b', 'c'].map((id) => entry(id, '2026-11-24T22:30:00Z')) as [NotebookEntry, NotebookEntry, NotebookEntry];
    expect(joined([a, b], [b, c]).map((one) => one.id)).toEqual(['a', 'b', 'c']);
  });
  it('tells a note once', () => {
    expect(words_of(entry('a', '', { text: 'fed: 2 x cricket: shy', note: 'shy' }))).toBe('fed: 2 x cricket');
    expect(words_of(entry('a', '', { text: 'weighed 71 g', note: '' }))).toBe('weighed 71 g');
    expect(words_of(entry('a', '', { text: 'weighed 71 g', note: 'shy' }))).toBe('weighed 71 g');
  });
  it('leaves out the id of what was struck', () => {
    expect(words_of(entry('a', '', { kind: 'struck', text: 'struck out 01a2-7f: wrong end', note: 'wrong end', strikes: '01a2-7f' }))).toBe('struck out');
  });
  it('does not strike twice, nor a strike', () => {
    expect(can_be_struck(entry('a', ''))).toBe(true);
    expect(can_be_struck(entry('a', '', { struck: true }))).toBe(false);
    expect(can_be_struck(entry('a', '', { kind: 'struck', strikes: 'b' }))).toBe(false);
  });
});
