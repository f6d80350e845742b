// The numbers of the weight chart, in the columns that the plotting wants: one row a moment, nothing
// where a line has no value there.

import type { Weights } from './animal';
import { wall } from './dates';

export type Span = 'quarter' | 'year' | 'all';
export const kSpans: readonly Span[] = ['quarter', 'year', 'all'];
const kDays: Record<Span, number> = { quarter: 92, year: 366, all: Infinity };

type Column = (number | null)[];
export interface Columns {
  at: number[]; // seconds since 1970, as uPlot counts
  low: Column;
  high: Column;
  middle: Column;
  used: Column;
  unused: Column; // weighings that the model does not believe
}

const seconds = (moment: string): number => Date.parse(moment) / 1000;

/** The rows of the last months before `until`, oldest first. A day of the band stands at its noon. */
export function chart_columns(weights: Weights, span: Span, until: Date): Columns {
  const from = until.getTime() / 1000 - kDays[span] * 86_400;
  const rows = new Map<number, { band?: Weights['band'][number]; weighing?: Weights['weighings'][number] }>();
  for (const band of weights.band) rows.set(seconds(`${band.date}T12:00:00Z`), { band });
  for (const weighing of weights.weighings) {
    const at = seconds(weighing.at);
    rows.set(at, { ...rows.get(at), weighing });
  }
  const moments = [...rows.keys()].filter((at) => at >= from).sort((a, b) => a - b);
  const column = (value: (row: NonNullable<ReturnType<typeof rows.get>>) => number | undefined): Column =>
    moments.map((at) => value(rows.get(at) ?? {}) ?? null);
  return {
    at: moments,
    low: column(({ band }) => band?.low_g),
    high: column(({ band }) => band?.high_g),
    middle: column(({ band }) => band?.mass_g),
    used: column(({ weighing }) => (weighing?.used ? weighing.mass_g : undefined)),
    unused: column(({ weighing }) => (weighing && !weighing.used ? weighing.mass_g : undefined)),
  };
}

export interface WeightRow {
  date: string;
  mass_g: number;
  used: boolean;
  band: Weights['band'][number] | null; // what the model says of that day
}

/** One row a weighing, the latest first, for those who read numbers. */
export function weight_table(weights: Weights, zone: string): WeightRow[] {
  const bands = new Map(weights.band.map((band) => [band.date, band]));
  return weights.weighings
    .map(({ at, mass_g, used }) => {
      const { date } = wall(new Date(at), zone);
      return { date, mass_g, used, band: bands.get(date) ?? null };
    })
    .reverse();
}

/** Events that are worth a mark on the chart: not the meals, which would cover it. */
export function marked_events(weights: Weights): Weights['events'] {
  return weights.events.filter((event) => kMarks[event.kind] !== undefined);
}
export const kMarks: Record<string, string> = {
  refused: 'r', regurgitated: 'R', shed: 's', ill: 'i', recovered: 'w', moved: 'm', laid_eggs: 'e',
  brumation_started: 'b', brumation_ended: 'B', quarantine_started: 'q', quarantine_ended: 'Q',
};
