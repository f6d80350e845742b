// What an animal's page says, from what the server knows of it: the verdict and its reasons, the rows
// of its care ranges, and the record that holds a keeper's own value.

import type { components, paths } from './api_types';
import type { Finding } from './api';
import type { Units } from './units';
import { in_room_degrees, measure_of, three_figures } from './measures';
import { parse_decimal } from './units';

type Reply<P extends keyof paths> = paths[P] extends { get: { responses: { 200: { content: { 'application/json': infer T } } } } } ? T : never;

export type Animal = Reply<'/api/animals/{id}'>;
export type Sign = Animal['signs'][number];
export type Fact = Animal['profile'][number];
export type Quarantine = NonNullable<Animal['quarantine']>;
export type Food = NonNullable<Animal['food']>;
export type Weights = components['schemas']['Weights'];
export type RoomRecord = Record<string, string | number | boolean>;

/** From the least to the most urgent. */
export const kVerdicts = ['unknown', 'well', 'watch', 'today', 'weigh_again', 'call_vet', 'now'] as const;
export type Verdict = (typeof kVerdicts)[number];

const kOfResponse: Record<Sign['response'], Verdict> = {
  'change nothing': 'well', watch: 'watch', 'weigh again': 'weigh_again', 'call the vet': 'call_vet',
};
const kOfWhen: Record<Finding['when'], Verdict> = {
  now: 'now', today: 'today', 'this week': 'watch', 'good to know': 'well',
};

/** The most urgent of all that the models of health and the other modules say. Nothing said: not known. */
export function verdict_of(animal: Pick<Animal, 'signs' | 'findings'>): Verdict {
  const all = [
    ...animal.signs.map((sign) => kOfResponse[sign.response]),
    ...animal.findings.map((finding) => kOfWhen[finding.when]),
  ];
  return all.reduce<Verdict>((worst, one) => (kVerdicts.indexOf(one) > kVerdicts.indexOf(worst) ? one : worst), 'unknown');
}

/** Where a keeper's own value can be set: not on words of the profile that hold no value. */
export function can_override(key: string): boolean {
  return key !== 'notes';
}

/** The keeper's own records of a key: that of the animal goes before that of its species. */
export function override_of(overrides: RoomRecord[], animal: string, species: string, key: string): RoomRecord | null {
  const of_key = overrides.filter((one) => one['key'] === key);
  return of_key.find((one) => one['animal'] === animal) ?? of_key.find((one) => one['species'] === species) ?? null;
}

/** The form of an own value: two numbers with a unit, or words. */
export interface OverrideForm {
  low: string;
  high: string;
  words: string;
  reason: string;
}

/** How the value is typed: as a range, one number, or words as the profile has them. */
export function form_kind(value: string): 'range' | 'number' | 'words' {
  if (!measure_of(value)) return 'words';
  return value.includes('..') ? 'range' : 'number';
}

export function override_form(value: string, reason: string, units: Units): OverrideForm {
  const measure = measure_of(value);
  if (!measure) return { low: '', high: '', words: value, reason };
  const typed = (one: number) => three_figures(measure.unit === 'C' ? in_room_degrees(one, units) : one);
  return { low: typed(measure.low), high: typed(measure.high), words: value, reason };
}

export type OverrideFault = 'number' | 'order' | 'words' | 'reason';

/** The record of an own value for one animal, or what is wrong with the form. */
export function override_record(
  id: string, animal: string, key: string, profile_value: string, form: OverrideForm, units: Units,
): { record: RoomRecord } | { fault: OverrideFault } {
  if (form.reason.trim() === '') return { fault: 'reason' };
  const value = typed_value(profile_value, form, units);
  if (typeof value !== 'string') return value;
  return { record: { id, animal, key, value, reason: form.reason.trim() } };
}

function typed_value(profile_value: string, form: OverrideForm, units: Units): string | { fault: OverrideFault } {
  const kind = form_kind(profile_value);
  if (kind === 'words') return form.words.trim() === '' ? { fault: 'words' } : form.words.trim();
  const unit = measure_of(profile_value)?.unit === 'C' && units === 'us' ? 'F' : (measure_of(profile_value)?.unit ?? '');
  const low = signed_decimal(form.low);
  const high = kind === 'number' ? low : signed_decimal(form.high);
  if (low === null || high === null) return { fault: 'number' };
  if (low > high) return { fault: 'order' };
  return kind === 'number' ? `${low}${unit}` : `${low}${unit}..${high}${unit}`;
}

function signed_decimal(text: string): number | null {
  const plain = text.trim().replace('−', '-');
  const value = parse_decimal(plain.replace(/^-/, ''));
  return value === null ? null : plain.startsWith('-') ? -value : value;
}

/** An id for a new own value, as the room file allows them: at most 64 letters, the key kept whole. */
export function override_id(animal: string, key: string): string {
  const end = `-${key}`;
  return `own-${animal}`.slice(0, 64 - end.length) + end;
}

/** Entries of the notebook that say something of its eating, its skin, its place and its health. */
export function events_of(weights: Weights, kinds: readonly string[], at_most: number): Weights['events'] {
  return weights.events.filter((event) => kinds.includes(event.kind)).slice(-at_most).reverse();
}
export const kMealKinds = ['fed', 'refused', 'leftovers', 'regurgitated'] as const;
export const kShedKinds = ['in_shed', 'shed'] as const;

/** The record's fields that have a name for people, in the order of the names. */
export function record_facts(record: Animal['record'], names: Record<string, string>, yes: string): [string, string][] {
  return Object.entries(names).flatMap(([field, name]) => {
    const value = record[field as keyof Animal['record']];
    if (value === undefined || value === false) return [];
    return [[name, value === true ? yes : String(value).replaceAll('_', ' ')] as [string, string]];
  });
}
