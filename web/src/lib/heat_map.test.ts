// Expected values from arithmetic that can be done by hand, said beside each.
import { describe, expect, test } from 'vitest';
import { coarse_table, day_rows, field_of, line_at, place_at, share_between, step_at, steps_of, type Grid } from './heat_map';

const grid = (values: (number | null)[], columns: number, rows: number): Grid => ({
  x_edges_m: Array.from({ length: columns + 1 }, (_, i) => i / columns),
  y_edges_m: Array.from({ length: rows + 1 }, (_, i) => i / rows),
  values, title: 't', x_label: 'x', y_label: 'y',
});

describe('a field', () => {
  test('runs straight between the middles of its rectangles', () => {
    // Middles at 0.25 and 0.75: 10 and 20, or 30 and 40 above them.
    const field = field_of(grid([10, 20, 30, 40], 2, 2))!;
    expect(field.at(0.25, 0.25)).toBeCloseTo(10, 12);
    expect(field.at(0.5, 0.25)).toBeCloseTo(15, 12);
    expect(field.at(0.5, 0.5)).toBeCloseTo(25, 12);
    expect(field.at(0, 1)).toBeCloseTo(30, 12);
    expect([field.low, field.high, field.width_m, field.height_m]).toEqual([10, 40, 1, 1]);
  });
  test('is touched in the picture, whose top is the far edge', () => {
    const field = field_of(grid([10, 20, 30, 40], 2, 2))!;
    expect(place_at(field, 0.25, 0.25)).toEqual({ x_m: 0.25, y_m: 0.75 });
    expect(place_at(field, 1.5, -1)).toEqual({ x_m: 1, y_m: 1 });
  });
  test('has no value where there is nothing, and keeps its neighbour’s', () => {
    const field = field_of(grid([10, null], 2, 1))!;
    expect(field.at(0.3, 0.5)).toBe(10);
    expect(field.at(0.9, 0.5)).toBeNull();
  });
  test('without any value is none', () => {
    expect(field_of(grid([null, null], 2, 1))).toBeNull();
  });
  test('knows its usual values: without the three hundredths at either end', () => {
    const field = field_of(grid(Array.from({ length: 100 }, (_, i) => (i === 99 ? 500 : i)), 10, 10))!;
    expect([field.low, field.high, field.usual]).toEqual([0, 500, [3, 96]]);
  });
  test('is converted', () => {
    expect(field_of(grid([0, 100], 2, 1), (c) => c * 1.8 + 32)!.high).toBe(212);
  });
});

describe('steps', () => {
  test('are even, round, take in all and are at most eight', () => {
    expect(steps_of(19.6, 41)).toEqual([15, 20, 25, 30, 35, 40, 45]);
    expect(steps_of(20, 24)).toEqual([20, 20.5, 21, 21.5, 22, 22.5, 23, 23.5, 24]);
    expect(steps_of(0.12, 2.9)).toEqual([0, 0.5, 1, 1.5, 2, 2.5, 3]);
  });
  test('one value alone has one step', () => {
    expect(steps_of(23, 23)).toHaveLength(2);
  });
  test('a value on a limit belongs to the step above it, the highest to the last', () => {
    expect([19, 20, 24.9, 25, 30].map((value) => step_at([20, 25, 30], value))).toEqual([0, 0, 0, 1, 1]);
  });
});

test('the line of a value on a slope is straight and stands where the value is', () => {
  // 0 at x = 1/20, 9 at 19/20, straight in between: 4.5 in the middle.
  const field = field_of(grid([...Array(2)].flatMap(() => Array.from({ length: 10 }, (_, i) => i)), 10, 2))!;
  const pieces = line_at(field, 4.5, 20, 8);
  expect(pieces).toHaveLength(8);
  for (const [x1, y1, x2, y2] of pieces) {
    expect(x1).toBeCloseTo(0.5, 12);
    expect(x2).toBeCloseTo(0.5, 12);
    expect(Math.abs(y1 - y2)).toBeCloseTo(1 / 8, 12);
  }
  expect(line_at(field, 20, 20, 8)).toEqual([]);
});

test('the coarse table begins with the far side', () => {
  const field = field_of(grid([1, 2, 3, 4], 2, 2))!;
  expect(coarse_table(field, 2, 2)).toEqual([[3, 4], [1, 2]]);
});

test('the share of the area in a band', () => {
  // 0 up to a quarter of the width, 10 from three quarters on, straight in between: 5 in the middle.
  const field = field_of(grid([0, 10], 2, 1))!;
  expect(share_between(field, 0, 5)).toBe(0.5);
  expect(share_between(field, 0, 10)).toBe(1);
  expect(share_between(field, 11, 12)).toBe(0);
});

test('the day: coldest and warmest with their hour; lines without values are left out', () => {
  const rows = day_rows(
    { hours: [0.5, 1.5, 2.5], lines: [{ name: 'warm air', values_c: [21, null, 25] }, { name: 'basking', values_c: [null, null, null] }] },
    (value) => value,
  );
  expect(rows).toEqual([{ name: 'warm air', low: 21, low_hour: 0, high: 25, high_hour: 2, values: [21, null, 25] }]);
});
