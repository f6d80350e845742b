import { expect, test } from 'vitest';
import type { Weights } from './animal';
import { chart_columns, marked_events, weight_table } from './weight_chart';

const weights: Weights = {
  animal: 'a',
  weighings: [
    { at: '2026-06-01T17:00:00Z', mass_g: 100, used: true },
    { at: '2026-10-01T23:30:00Z', mass_g: 200, used: false },
  ],
  band: [
    { date: '2026-06-01', mass_g: 99, low_g: 95, high_g: 103 },
    { date: '2026-10-02', mass_g: 98, low_g: 94, high_g: 102 },
  ],
  events: [{ at: '2026-06-02T00:00:00Z', kind: 'fed', text: 'fed' }, { at: '2026-06-03T00:00:00Z', kind: 'shed', text: 'shed' }],
};

test('columns: one row a moment in order, nothing where a line has no value', () => {
  const columns = chart_columns(weights, 'all', new Date('2026-11-30T00:00:00Z'));
  expect(columns.at.map((at) => new Date(at * 1000).toISOString().slice(0, 16))).toEqual([
    '2026-06-01T12:00', '2026-06-01T17:00', '2026-10-01T23:30', '2026-10-02T12:00',
  ]);
  expect(columns.used).toEqual([null, 100, null, null]);
  expect(columns.unused).toEqual([null, null, 200, null]);
  expect(columns.low).toEqual([95, null, null, 94]);
});

test('a span leaves out what lies before it', () => {
  expect(chart_columns(weights, 'quarter', new Date('2026-11-30T00:00:00Z')).at).toHaveLength(2);
  expect(chart_columns(weights, 'year', new Date('2026-11-30T00:00:00Z')).at).toHaveLength(4);
});

test('a weighing and a day of the band at the same moment share a row', () => {
  const noon = { ...weights, weighings: [{ at: '2026-06-01T12:00:00Z', mass_g: 100, used: true }] };
  const columns = chart_columns(noon, 'all', new Date('2026-11-30T00:00:00Z'));
  expect([columns.at.length, columns.used[0], columns.middle[0]]).toEqual([2, 100, 99]);
});

test('the table: the latest first, each with the band of its day on the room’s clock', () => {
  // 23:30 UTC on 1 October is 01:30 on 2 October in Oslo, in summer time.
  const rows = weight_table(weights, 'Europe/Oslo');
  expect(rows.map((row) => [row.date, row.mass_g, row.used, row.band?.mass_g])).toEqual([
    ['2026-10-02', 200, false, 98], ['2026-06-01', 100, true, 99],
  ]);
});

test('meals are no marks', () => {
  expect(marked_events(weights).map((event) => event.kind)).toEqual(['shed']);
});
