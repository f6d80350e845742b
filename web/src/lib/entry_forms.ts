// What each kind of entry asks for: the table of docs/notebook.md (a test compares them), and from a
// filled form to a draft of the entry. Knows nothing of the screen; what the book refuses after all is
// told by the book.

import type { EntryFields, EntryKind, Subject } from './entries';
import type { Draft } from './tasks';
import { mass_text, parse_decimal, type MassUnit, type Units } from './units';

export type PartName = 'mass' | 'length' | 'temperature' | 'humidity' | 'uvi' | 'count' | 'item' | 'target' | 'strikes';

export interface EntryForm {
  kind: EntryKind;
  about: readonly string[]; // kinds of things; empty: anything
  must: readonly PartName[];
  may: readonly PartName[];
  item: string; // what the item says; empty: nothing more than its name
  target: readonly string[]; // kinds of things
}

const kReplaced = ['lamp', 'heater', 'thermostat', 'instrument', 'safety_device', 'jar'] as const;
const kMeal = ['item', 'count', 'mass', 'target'] as const;

function form(
  kind: EntryKind, about: readonly string[], must: readonly PartName[] = [], may: readonly PartName[] = [],
  item = '', target: readonly string[] = [],
): EntryForm {
  return { kind, about, must, may, item, target };
}

export const kEntryForms: readonly EntryForm[] = [
  form('weighed', ['animal'], ['mass']),
  form('measured', ['animal'], ['length'], ['item'], 'which length, such as shell or snout-vent'),
  form('fed', ['animal'], [], kMeal, 'the food', ['jar']),
  form('refused', ['animal'], [], kMeal, 'the food', ['jar']),
  form('leftovers', ['animal'], [], kMeal, 'the food; target: who was given them', ['animal']),
  form('regurgitated', ['animal'], [], ['item'], 'the food'),
  form('in_shed', ['animal']),
  form('shed', ['animal'], [], ['item'], 'complete, or stuck'),
  form('droppings', ['animal'], [], ['item'], 'how they were'),
  form('watered', ['enclosure']),
  form('spot_cleaned', ['enclosure']),
  form('full_cleaned', ['enclosure'], [], ['item'], 'with what'),
  form('misted', ['enclosure']),
  form('reading', ['enclosure'], [], ['temperature', 'humidity', 'item'], 'where: warm side, cool side, basking surface, ...'),
  form('uv_reading', ['lamp'], ['uvi'], ['item', 'length'], 'where'),
  form('moved', ['animal'], ['target'], [], '', ['enclosure']),
  form('quarantine_started', ['animal']),
  form('quarantine_ended', ['animal']),
  form('brumation_started', ['animal']),
  form('brumation_ended', ['animal']),
  form('ill', ['animal'], [], ['item'], 'what was seen'),
  form('recovered', ['animal']),
  form('laid_eggs', ['animal'], [], ['count']),
  form('checked', ['animal', 'room'], ['item'], [], 'what: shed, mites, faecal sample, ...; of the room: cords; where there is a result: mites: negative'),
  form('tested', ['thermostat', 'safety_device', 'instrument', 'heater', 'room'], [], ['item'], 'how it went'),
  form('used', ['tool'], ['target'], [], '', ['animal', 'enclosure']),
  form('disinfected', ['tool', 'enclosure', 'room'], [], ['item', 'count'], 'with what; count: minutes of contact'),
  form('opened', ['jar']),
  form('replaced', kReplaced),
  form('done', ['task']),
  form('note', []),
  form('struck', [], ['strikes']),
];

/** Kinds that are written by hand; a strike is made from the entry that it strikes. */
export const kWritable: readonly EntryForm[] = kEntryForms.filter((one) => one.kind !== 'struck');

export function entry_form(kind: string): EntryForm | null {
  return kEntryForms.find((one) => one.kind === kind) ?? null;
}

/** The kinds of things that an entry of this kind can be about. */
export function about_kinds(entry: EntryForm, record_kinds: readonly string[]): readonly string[] {
  return entry.about.length > 0 ? entry.about : record_kinds;
}

export const kLengthUnits = ['cm', 'mm', 'm', 'in', 'ft'] as const;
export type LengthUnit = (typeof kLengthUnits)[number];
export const kTemperatureUnits = ['C', 'F'] as const;
export type TemperatureUnit = (typeof kTemperatureUnits)[number];

/** What was typed; an empty text: nothing. */
export interface Typed {
  mass: string;
  mass_unit: MassUnit;
  length: string;
  length_unit: LengthUnit;
  temperature: string;
  temperature_unit: TemperatureUnit;
  humidity: string;
  uvi: string;
  count: string;
  item: string;
  target: string; // kind and id
  note: string;
}

export function nothing_typed(units: Units): Typed {
  const us = units === 'us';
  return {
    mass: '', mass_unit: us ? 'oz' : 'g', length: '', length_unit: us ? 'in' : 'cm', temperature: '',
    temperature_unit: us ? 'F' : 'C', humidity: '', uvi: '', count: '', item: '', target: '', note: '',
  };
}

/** The fields that cannot be read, or are missing. */
export type TypedFaults = Partial<Record<PartName | 'subject' | 'note', true>>;

/** The entry that was typed, or which fields are at fault. Only parts that the kind has are read. */
export function typed_draft(entry: EntryForm, subject: Subject | null, typed: Typed): { draft: Draft } | { faults: TypedFaults } {
  const faults: TypedFaults = {};
  const fields: EntryFields = {};
  for (const part of [...entry.must, ...entry.may]) {
    const text = part === 'strikes' ? '' : typed[part].trim();
    if (text === '') {
      if (entry.must.includes(part)) faults[part] = true;
      continue;
    }
    const value = part_value(part, text, typed);
    if (value === null) faults[part] = true;
    else Object.assign(fields, { [part]: value });
  }
  // A reading of nothing says nothing; the book would take it all the same.
  if (entry.kind === 'reading' && fields.temperature === undefined && fields.humidity === undefined) faults.temperature = true;
  const note = typed.note.trim();
  if (entry.kind === 'note' && note === '') faults.note = true;
  if (!subject || subject.id === '') faults.subject = true;
  if (!subject || Object.keys(faults).length > 0) return { faults };
  return { draft: { kind: entry.kind, subject, fields: { ...fields, note } } };
}

function part_value(part: PartName, text: string, typed: Typed): string | number | null {
  const value = parse_decimal(text);
  switch (part) {
    case 'mass': return mass_text(text, typed.mass_unit);
    case 'length': return value !== null && value > 0 ? `${value}${typed.length_unit}` : null;
    case 'temperature': return temperature_text(text, typed.temperature_unit);
    case 'humidity': return value !== null && value <= 100 ? `${value}%` : null;
    case 'uvi': return value === null ? null : `${value}UVI`;
    case 'count': return /^\d{1,5}$/.test(text) ? Number(text) : null;
    default: return text;
  }
}

/** Of the quantities only a temperature can be below zero. */
function temperature_text(text: string, unit: TemperatureUnit): string | null {
  const value = parse_decimal(text.replace(/^[-\u2212]\s*/, ''));
  if (value === null) return null;
  return `${/^[-\u2212]/.test(text) ? '-' : ''}${value}${unit}`;
}
