// Adding a thing in a few steps: which fields are asked in which order, and what the species' profile
// suggests for them. A suggestion is shown as one, with the trust of the value it comes from; nothing
// is written before the keeper has seen it. Everything that the steps leave out is in the editor.

import type { components } from './api_types';
import type { RecordForm } from './records';
import type { Units } from './units';

export type SpeciesProfile = components['schemas']['Species'];
type ProfileValue = SpeciesProfile['profile'][number];

export const kQuick = [
  'animal', 'enclosure', 'heater', 'thermostat', 'lamp', 'timer', 'instrument', 'jar', 'supply', 'tool', 'safety_device',
] as const;
export type QuickKind = (typeof kQuick)[number];

/** Fields by step. The id is asked last. */
export const kSteps: Record<QuickKind, readonly (readonly string[])[]> = {
  animal: [['species'], ['enclosure'], ['name', 'sex', 'count', 'born', 'arrived']],
  enclosure: [['name', 'place', 'rack', 'shelf', 'position'], ['length', 'width', 'height', 'water_dish', 'substrate']],
  heater: [['kind', 'enclosure'], ['power', 'place', 'thermostat', 'socket'], ['nearest', 'clearance', 'within_reach']],
  thermostat: [['kind', 'enclosure'], ['probe_place', 'day', 'night', 'socket']],
  lamp: [['kind', 'enclosure', 'uvb'], ['power', 'distance', 'installed', 'timer', 'socket'], ['nearest', 'clearance', 'within_reach']],
  timer: [['on', 'off', 'socket', 'capacity']],
  instrument: [['kind', 'enclosure', 'place']],
  jar: [['contents', 'label'], ['opened', 'expires', 'calcium', 'vitamin_d3_iu_per_g', 'retinol_iu_per_g']],
  supply: [['kind', 'name'], ['count', 'mass', 'expires', 'place']],
  tool: [['kind', 'enclosure', 'mark']],
  safety_device: [['kind', 'place'], ['battery', 'expires', 'by_the_door']],
};

export function is_quick(kind: string): kind is QuickKind {
  return (kQuick as readonly string[]).includes(kind);
}

function value_of(profile: SpeciesProfile, key: string): ProfileValue | null {
  return profile.profile.find((one) => one.key === key) ?? null;
}

/** The middle of a range such as "26C..30C", in its unit; a single value is itself; null: neither. */
export function middle_of(range: string): string | null {
  const found = /^(-?[\d.]+)([A-Za-z%]*)(?:\.\.(-?[\d.]+)([A-Za-z%]*))?$/.exec(range.trim());
  if (!found) return null;
  const [, low, unit, high, high_unit] = found;
  if (high === undefined) return `${Number(low)}${unit}`;
  if (unit !== high_unit) return null;
  return `${Math.round((Number(low) + Number(high)) * 5) / 10}${unit}`;
}

/** Length, width and height of a size such as "120cm x 60cm x 60cm". */
export function size_of(text: string): { length: string; width: string; height: string } | null {
  const parts = text.split(' x ').map((part) => part.trim());
  if (parts.length !== 3 || !parts.every((part) => /^[\d.]+(m|cm|mm|in|ft)$/.test(part))) return null;
  const [length, width, height] = parts as [string, string, string];
  return { length, width, height };
}

/** Temperatures and lengths of the profiles, which are metric, in the room's units. */
export function in_units(text: string, units: Units): string {
  if (units === 'metric') return text;
  const tenth = (value: number) => Math.round(value * 10) / 10;
  // Exact by definition: 0 degC is 32 degF, a kelvin 1.8 of its degrees; an inch is 2.54 cm.
  return text
    .replace(/(-?\d+(?:\.\d+)?)C\b/g, (_, number) => `${tenth(Number(number) * 1.8 + 32)}F`)
    .replace(/(\d+(?:\.\d+)?)cm\b/g, (_, number) => `${tenth(Number(number) / 2.54)}in`);
}

/** "26 to 30 °C" of "26C..30C": for reading, not for a field. */
export function readable(text: string, units: Units): string {
  return in_units(text, units)
    .replace(/(\d)([A-Za-z%]+)\.\.(-?[\d.]+)\2/g, '$1 to $3$2')
    .replace(/(\d)(C|F)\b/g, '$1 °$2')
    .replace(/(\d)UVI\b/g, '$1')
    .replace(/(\d)d\b/g, '$1 days')
    .replace(/(\d)(cm|in|%|g)(?![A-Za-z])/g, '$1 $2');
}

/** What a field is filled with before the keeper has typed, and where that comes from. */
export interface Suggestion {
  value: string;
  from: ProfileValue;
}

/** What the profile of who lives there suggests for the fields of a thing. */
export function suggestions_for(kind: QuickKind, profile: SpeciesProfile | null, units: Units): Record<string, Suggestion> {
  if (!profile) return {};
  const result: Record<string, Suggestion> = {};
  if (kind === 'enclosure') {
    const from = value_of(profile, 'min_enclosure');
    const size = from ? size_of(from.value) : null;
    if (from && size) for (const [field, value] of Object.entries(size)) result[field] = { value: in_units(value, units), from };
  }
  if (kind === 'thermostat') {
    for (const [field, key] of [['day', 'warm_side_air'], ['night', 'night']] as const) {
      const from = value_of(profile, key);
      const value = from ? middle_of(from.value) : null;
      if (from && value !== null) result[field] = { value: in_units(value, units), from };
    }
  }
  return result;
}

/** What a thing of its kind begins with, whatever the species. */
export function beginnings(kind: QuickKind, today: string): RecordForm {
  switch (kind) {
    case 'animal': return { arrived: today };
    case 'enclosure': return { water_dish: 'true' };
    case 'thermostat': return { probe_place: 'warm side' };
    case 'lamp': return { installed: today };
    case 'jar': return { opened: today };
    default: return {};
  }
}

// What a new keeper of the species wants to see first.
const kShown = [
  'basking_surface', 'warm_side_air', 'cool_side', 'night', 'humidity', 'uvi_gradient', 'min_enclosure', 'quarantine_length',
];

export function shown_values(profile: SpeciesProfile): ProfileValue[] {
  return kShown.flatMap((key) => value_of(profile, key) ?? []);
}

/** Fills what is empty, and what still holds an earlier suggestion, with the new ones. */
export function with_suggestions(
  form: RecordForm, before: Record<string, Suggestion>, now: Record<string, Suggestion>,
): RecordForm {
  const result = { ...form };
  for (const field of new Set([...Object.keys(before), ...Object.keys(now)])) {
    const text = result[field] ?? '';
    if (text === '' || text === before[field]?.value) result[field] = now[field]?.value ?? '';
  }
  return result;
}

/** The one species of all who live in an enclosure; null: none, or several, whose wants may differ. */
export function one_species(ids: readonly string[]): string | null {
  return ids.length > 0 && ids.every((id) => id === ids[0]) ? ids[0]! : null;
}
