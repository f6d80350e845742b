// Maps of an enclosure: steps, the lines between them, and the words that say the same to those who do
// not see the picture. Values stand in the middle of their rectangles and run straight in between.

import type { components } from './api_types';

export type Maps = components['schemas']['Maps'];
export type Grid = components['schemas']['Grid'];
export type Mark = components['schemas']['Mark'];

export interface Field {
  width_m: number;
  height_m: number;
  low: number;
  high: number;
  usual: [low: number, high: number]; // all but the few coldest and hottest rectangles
  at: (x_m: number, y_m: number) => number | null;
}

// A bare lamp makes a few rectangles far hotter than all others; the steps are for the others.
const kFew = 0.03;

/** Null where the grid holds no value at all. */
export function field_of(grid: Grid, convert: (value: number) => number = (value) => value): Field | null {
  const { x_edges_m: xs, y_edges_m: ys } = grid;
  const columns = xs.length - 1;
  const values = grid.values.map((value) => (value === null ? null : convert(value)));
  const known = values.filter((value) => value !== null);
  if (known.length === 0 || columns < 1 || ys.length < 2) return null;
  const sorted = [...known].sort((a, b) => a - b);
  const few = Math.floor(known.length * kFew);
  const x_middles = middles(xs);
  const y_middles = middles(ys);
  const value = (i: number, j: number) => values[j * columns + i] ?? null;
  return {
    width_m: xs[columns]! - xs[0]!,
    height_m: ys[ys.length - 1]! - ys[0]!,
    low: sorted[0]!,
    high: sorted[sorted.length - 1]!,
    usual: [sorted[few]!, sorted[sorted.length - 1 - few]!],
    at: (x_m, y_m) => {
      const [i, u] = between(x_middles, x_m);
      const [j, v] = between(y_middles, y_m);
      // Beside a place without a value, that of the rectangle itself.
      const corners = [value(i, j), value(i + u.step, j), value(i, j + v.step), value(i + u.step, j + v.step)];
      const [a, b, c, d] = corners;
      if (a == null || b == null || c == null || d == null) {
        return value(u.share < 0.5 ? i : i + u.step, v.share < 0.5 ? j : j + v.step);
      }
      return (a * (1 - u.share) + b * u.share) * (1 - v.share) + (c * (1 - u.share) + d * u.share) * v.share;
    },
  };
}

function middles(edges: number[]): number[] {
  return edges.slice(1).map((edge, i) => (edge + edges[i]!) / 2);
}

/** Which middle lies before, and how far towards the next; outside the first and last nothing changes. */
function between(points: number[], x: number): [number, { share: number; step: number }] {
  const last = points.length - 1;
  if (x <= points[0]!) return [0, { share: 0, step: 0 }];
  if (x >= points[last]!) return [last, { share: 0, step: 0 }];
  const i = points.findIndex((point) => point > x) - 1;
  return [i, { share: (x - points[i]!) / (points[i + 1]! - points[i]!), step: 1 }];
}

/** A place on a map, from its left edge and from the edge near the keeper, or the floor. */
export interface MapPlace {
  x_m: number;
  y_m: number;
}

/** Which place lies so far to the right and down in the picture, both 0 to 1; beyond its edge, the edge. */
export function place_at(field: Field, right: number, down: number): MapPlace {
  const share = (one: number) => Math.min(1, Math.max(0, one));
  return { x_m: share(right) * field.width_m, y_m: (1 - share(down)) * field.height_m };
}

/** The limits of at most eight even steps of a round size that take in all values. */
export function steps_of(low: number, high: number): number[] {
  const kMost = 8;
  const kSizes = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];
  const count = (size: number) => Math.ceil(high / size - 1e-9) - Math.floor(low / size + 1e-9);
  const size = kSizes.find((one) => count(one) <= kMost) ?? 200;
  const first = Math.floor(low / size + 1e-9);
  return Array.from({ length: Math.max(1, count(size)) + 1 }, (_, i) => Number(((first + i) * size).toFixed(6)));
}

/** Which step a value lies in. */
export function step_at(limits: number[], value: number): number {
  const above = limits.findIndex((limit) => limit > value);
  return Math.max(0, (above < 0 ? limits.length - 1 : above) - 1);
}

export type Segment = [x1: number, y1: number, x2: number, y2: number];

/**
 * The line on which a field has a value, in pieces of a raster of `columns` by `rows`; x and y run from 0
 * to 1. Marching squares; a saddle is cut by its first corner.
 */
export function line_at(field: Field, level: number, columns: number, rows: number): Segment[] {
  const pieces: Segment[] = [];
  const sample = Array.from({ length: rows + 1 }, (_, j) =>
    Array.from({ length: columns + 1 }, (_unused, i) => field.at((i / columns) * field.width_m, (j / rows) * field.height_m)),
  );
  for (let j = 0; j < rows; ++j) {
    for (let i = 0; i < columns; ++i) {
      const corners = [[i, j], [i + 1, j], [i + 1, j + 1], [i, j + 1]] as const;
      const crossings: [number, number][] = [];
      for (let k = 0; k < 4; ++k) {
        const [x1, y1] = corners[k]!;
        const [x2, y2] = corners[(k + 1) % 4]!;
        const from = sample[y1]![x1];
        const to = sample[y2]![x2];
        if (from == null || to == null || from < level === to < level) continue;
        const share = (level - from) / (to - from);
        crossings.push([(x1 + (x2 - x1) * share) / columns, (y1 + (y2 - y1) * share) / rows]);
      }
      for (let k = 0; k + 1 < crossings.length; k += 2) pieces.push([...crossings[k]!, ...crossings[k + 1]!]);
    }
  }
  return pieces;
}

/** A coarse table of a map: rows from the far side (or the lid), columns from the left. */
export function coarse_table(field: Field, columns: number, rows: number): (number | null)[][] {
  return Array.from({ length: rows }, (_, j) =>
    Array.from({ length: columns }, (_unused, i) =>
      field.at(((i + 0.5) / columns) * field.width_m, ((rows - j - 0.5) / rows) * field.height_m),
    ),
  );
}

/** The share of a map's area between two values. */
export function share_between(field: Field, low: number, high: number): number {
  const kAcross = 40;
  const all = coarse_table(field, kAcross, kAcross).flat().filter((value) => value !== null);
  return all.length === 0 ? 0 : all.filter((value) => value >= low && value <= high).length / all.length;
}

export interface DayRow {
  name: string;
  low: number;
  low_hour: number;
  high: number;
  high_hour: number;
  values: (number | null)[];
}

/** Each line of the computed day with when it is coldest and warmest; lines without values are left out. */
export function day_rows(day: Maps['day'], convert: (value: number) => number): DayRow[] {
  return day.lines.flatMap(({ name, values_c }) => {
    const values = values_c.map((value) => (value === null ? null : convert(value)));
    const known = values.filter((value) => value !== null);
    if (known.length === 0) return [];
    const low = Math.min(...known);
    const high = Math.max(...known);
    const hour = (value: number) => Math.floor(day.hours[values.indexOf(value)] ?? 0);
    return [{ name, low, low_hour: hour(low), high, high_hour: hour(high), values }];
  });
}
