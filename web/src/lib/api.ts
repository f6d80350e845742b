// The server's API, with types made from docs/openapi.json (`npm run api`). Every call ends within
// kPatience_ms: a phone on the edge of the signal must not hang. No call repeats itself; entries are
// never posted from a page but through the outbox (outbox.ts, sender.ts).

import createClient from 'openapi-fetch';
import type { components, paths } from './api_types';

export type Session = components['schemas']['Session'];
export type Problem = components['schemas']['Problem'];
export type Problems = components['schemas']['Problems'];
export type EntryResults = components['schemas']['EntryResults'];
export type RoomPlan = components['schemas']['RoomPlan'];
export type NotebookPage = components['schemas']['NotebookPage'];
export type Finding = components['schemas']['finding'];
export type RoundAnswer = components['schemas']['today.schema'];
export type TaskAnswer = components['schemas']['task'];
export type CourseAnswer = components['schemas']['course'];

// Long enough for a slow line and a busy server. Common practice, no source.
const kPatience_ms = 15_000;

async function patient_fetch(request: Request): Promise<Response> {
  return fetch(new Request(request, { signal: AbortSignal.timeout(kPatience_ms) }));
}

export const api = createClient<paths>({ baseUrl: location.origin, fetch: patient_fetch });

/** What went wrong with a call. */
export type Trouble =
  | { kind: 'not_reachable' } // no answer, or half of one
  | { kind: 'sign_in' }
  | { kind: 'not_allowed' }
  | { kind: 'busy' } // 429, 5xx: later
  | { kind: 'changed' } // by somebody else since it was read
  | { kind: 'refused'; status: number; problems: Problem[] };

export type Answer<T> = { ok: true; value: T } | { ok: false; trouble: Trouble };

interface Outcome<T> {
  data?: T;
  error?: unknown;
  response: Response;
}

/** The value of a call of `api`, or what went wrong in one of six words. Never throws. */
export async function answer_of<T>(call: Promise<Outcome<T>>): Promise<Answer<T>> {
  let outcome: Outcome<T>;
  try {
    outcome = await call;
  } catch {
    return { ok: false, trouble: { kind: 'not_reachable' } };
  }
  if (outcome.response.ok) return { ok: true, value: outcome.data as T };
  return { ok: false, trouble: trouble_of(outcome.response.status, outcome.error) };
}

export function trouble_of(status: number, body: unknown): Trouble {
  if (status === 401) return { kind: 'sign_in' };
  if (status === 403) return { kind: 'not_allowed' };
  if (status === 412) return { kind: 'changed' };
  if (status === 429 || status >= 500) return { kind: 'busy' };
  const problems = (body as Partial<Problems> | undefined)?.problems;
  if (Array.isArray(problems) && problems.length > 0) return { kind: 'refused', status, problems };
  const title = (body as Partial<Problems> | undefined)?.title ?? `status ${status}`;
  return { kind: 'refused', status, problems: [{ what: title, file: '', line: 0, field: '', expected: '', found: '' }] };
}

/** One problem as a sentence. */
export function problem_words(problem: Problem): string {
  const where = problem.field ? `${problem.field}: ` : '';
  const expected = problem.expected ? `; expected ${problem.expected}` : '';
  const found = problem.found ? `; found ${problem.found}` : '';
  return `${where}${problem.what}${expected}${found}`;
}
