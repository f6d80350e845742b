// Who can have had something from whom: what is asked, and the answer's chains as steps to read. The
// chains are worked out by the server.

import type { components } from './api_types';
import { instant_of_wall } from './dates';

export type TraceAnswer = components['schemas']['trace.schema'];
export type Exposed = TraceAnswer['exposed'][number];
export type Step = Exposed['chain'][number];

export const kDirections = ['ahead', 'back'] as const;
export type Direction = (typeof kDirections)[number];

export interface TraceQuestion {
  animal: string;
  date: string;
  direction: Direction;
}

/** The question that stands in the address; null: none yet. */
export function question_of(query: URLSearchParams): TraceQuestion | null {
  const animal = query.get('animal') ?? '';
  const date = query.get('date') ?? '';
  if (!animal || !/^\d{4}-\d\d-\d\d$/.test(date)) return null;
  return { animal, date, direction: query.get('direction') === 'back' ? 'back' : 'ahead' };
}

/** Since the beginning of the day, or up to its end: the whole day counts either way. */
export function instant_of(question: TraceQuestion, zone: string): Date | null {
  return instant_of_wall(question.date, question.direction === 'ahead' ? '00:00' : '23:59', zone);
}

/** What people call an end of a step; the hands of a visit have no record, only their own words. */
export function name_of(id: string, kind: Step['from_kind'], names: ReadonlyMap<string, string>): string {
  return names.get(`${kind} ${id}`) ?? id;
}

// The groups of organisms that the program tells apart (docs/schema/trace.schema.json).
const kAllOrganisms = 7;

/** Whether no disinfection stopped anything on the way. */
export function nothing_stopped(exposed: Exposed): boolean {
  return exposed.organisms.length >= kAllOrganisms;
}
