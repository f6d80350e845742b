// From a task of the round to the entries that say it was done: which entry each kind of work calls
// for (docs/notebook.md), what a single tap may write by itself, and what has to be asked first.
// A tap never claims what was not said: a weighing asks for its number, and a look for mites asks
// what was seen.

import type { CourseAnswer, TaskAnswer } from './api';
import type { EntryFields, EntryKind, Subject } from './entries';
import {
  grams, mass_in_words, mass_text, mass_units, parse_decimal, unit_in_words, type MassUnit, type Units,
} from './units';

/** One food of the planned meal. */
export type Course = CourseAnswer;

/** A task of the round. Courses are those of the planned meal; an empty list: the plan names none. */
export type Task = TaskAnswer;

export const kOutcomes = [
  'done', 'eaten', 'refused', 'some_left', 'no_mites', 'mites', 'looked', 'shed_complete', 'shed_stuck',
] as const;
export type Outcome = (typeof kOutcomes)[number];

export type FieldName = 'mass' | 'uvi' | 'meal' | 'left' | 'item';

/** What the sheet of a task asks for. */
export interface Form {
  outcome: Outcome;
  mass: string;
  mass_unit: MassUnit;
  uvi: string;
  food: string;
  count: string; // empty: no number
  dusted: boolean; // from the planned jar
  left: string; // how many were left lying; empty: no number
  item: string;
  note: string;
}

/** An entry but for its id and time. */
export interface Draft {
  kind: EntryKind;
  subject: Subject;
  fields: EntryFields;
}

/** The outcomes that a task can have, the usual one first. */
export function outcomes_of(task: Task): readonly Outcome[] {
  switch (task.task) {
    case 'feeding': return ['eaten', 'refused', 'some_left'];
    case 'quarantine_mite_check': return ['no_mites', 'mites', 'looked'];
    case 'shed_check': return ['looked', 'shed_complete', 'shed_stuck'];
    default: return ['done'];
  }
}

/** What the sheet asks for, for an outcome. Time and remark it always offers. */
export function fields_of(task: Task, outcome: Outcome): readonly FieldName[] {
  switch (task.task) {
    case 'weighing': return ['mass'];
    case 'uv_reading': return ['uvi'];
    case 'feeding': return outcome === 'some_left' ? ['meal', 'left'] : ['meal'];
    case 'full_clean':
    case 'thermostat_test':
    case 'smoke_alarm_test': return ['item'];
    default: return [];
  }
}

const kAsked: ReadonlySet<string> = new Set(['weighing', 'uv_reading', 'quarantine_mite_check']);

/** Whether a tap alone can say what was done. A meal that the plan does not name has to be told. */
export function one_tap(task: Task): boolean {
  return !kAsked.has(task.task) && task.courses?.length !== 0;
}

/** The last weighing as the task's own words have it, such as "1.68 kg on 2026-10-26"; empty: none. */
export function last_mass_words(task: Task): string {
  if (task.task !== 'weighing') return '';
  return task.detail.split('; ').find((part) => mass_in_words(part) !== null) ?? '';
}

/** What the sheet says of how: all, but for what it shows in a place of its own. */
export function words_of_sheet(task: Task): string {
  const last = last_mass_words(task);
  return task.detail.split('; ').filter((part) => part !== last).join('; ');
}

export function last_mass_g(task: Task): number | null {
  return task.last_mass_g ?? mass_in_words(last_mass_words(task));
}

/** The unit of the last weighing where the room's units have it, so that the next is typed alike. */
export function usual_mass_unit(task: Task, units: Units): MassUnit {
  const offered = mass_units(units);
  const last = unit_in_words(last_mass_words(task));
  return offered.find((unit) => unit === last) ?? offered[0]!;
}

/**
 * The task's words in two: what to do, and what to mind. Work whose words are few or rare is told in
 * full; of a meal the first part is what is given.
 */
export function detail_parts(task: Task): { first: string; rest: string } {
  const [first = '', ...rest] = task.detail.split('; ');
  return { first, rest: rest.join('; ') };
}

/** The form as the plan has it. A meal of several foods is written as planned or changed one by one. */
export function planned_form(task: Task, mass_unit: MassUnit): Form {
  const course = task.courses?.[0];
  const mass_g = weighs_meal(task) ? (course?.mass_g ?? null) : null;
  return {
    outcome: outcomes_of(task)[0]!,
    mass: mass_g === null ? '' : String(mass_g),
    mass_unit: mass_g === null ? mass_unit : 'g',
    uvi: '',
    food: course?.food ?? '',
    count: count_text(course),
    dusted: task.courses?.some((one) => one.jar !== null) ?? false,
    left: '', item: '', note: '',
  };
}

/** Whether a meal is told by its mass: one that the plan counts is not. */
export function weighs_meal(task: Task): boolean {
  return task.task === 'feeding' && (task.courses?.[0]?.count ?? null) === null;
}

export type FormFault = 'mass' | 'uvi' | 'count' | 'left';

/** The entries of a filled form, or which field cannot be read. */
export function drafts_of(task: Task, form: Form): { drafts: Draft[] } | { fault: FormFault } {
  const subject: Subject = { kind: task.subject_kind, id: task.subject };
  const note = form.note.trim();
  const one = (kind: EntryKind, fields: EntryFields = {}) => ({
    drafts: [{ kind, subject, fields: { note, ...fields } }],
  });
  // Wider than the schema: a newer server may bring kinds of work that this app has not seen.
  const kind: string = task.task;
  switch (kind) {
    case 'feeding': return meal_drafts(task, form, subject, note);
    case 'weighing': {
      const mass = mass_text(form.mass, form.mass_unit);
      return mass === null ? { fault: 'mass' } : one('weighed', { mass });
    }
    case 'uv_reading': {
      const uvi = parse_decimal(form.uvi);
      return uvi === null ? { fault: 'uvi' } : one('uv_reading', { uvi: `${uvi}UVI` });
    }
    case 'water': return one('watered');
    case 'misting': return one('misted');
    case 'spot_clean': return one('spot_cleaned');
    case 'full_clean': return one('full_cleaned', { item: form.item.trim() });
    case 'thermostat_test':
    case 'smoke_alarm_test': return one('tested', { item: form.item.trim() });
    case 'jar_age':
    case 'lamp_replacement': return one('replaced');
    case 'cord_check': return one('checked', { item: 'cords' });
    case 'quarantine_mite_check': return one('checked', { item: kMiteItems[form.outcome] ?? 'mites' });
    case 'quarantine_faecal_test': return one('checked', { item: 'faecal sample' });
    case 'shed_check':
      if (form.outcome === 'shed_complete') return one('shed', { item: 'complete' });
      if (form.outcome === 'shed_stuck') return one('shed', { item: 'stuck' });
      return one('checked', { item: 'shed' });
    case 'standing': return one('done');
    // The notebook has no kind for thawing, nor for work that is new to this app: its words are kept.
    default: return one('note', { note: note || task.title });
  }
}

// "negative" is "not found" (docs/notebook.md, results of checks).
const kMiteItems: Partial<Record<Outcome, string>> = { no_mites: 'mites: negative', mites: 'mites: positive' };

function meal_drafts(task: Task, form: Form, subject: Subject, note: string): ReturnType<typeof drafts_of> {
  const count = whole_number(form.count);
  const left = whole_number(form.left);
  if (count === 'fault') return { fault: 'count' };
  if (left === 'fault') return { fault: 'left' };
  const mass_g = weighs_meal(task) ? form_mass_g(form) : mass_as_planned(task.courses?.[0], form);
  if (weighs_meal(task) && form.mass.trim() !== '' && mass_g === null) return { fault: 'mass' };
  const kind: EntryKind = form.outcome === 'refused' ? 'refused' : 'fed';
  const [first, ...others] = task.courses ?? [];
  const drafts: Draft[] = [
    {
      kind,
      subject,
      fields: {
        ...meal_fields({ food: form.food.trim(), count, mass_g, jar: first?.jar ?? null }, form.dusted),
        note,
      },
    },
  ];
  for (const course of others) drafts.push({ kind, subject, fields: meal_fields(course, form.dusted) });
  if (form.outcome === 'some_left') {
    const lying: Course = { food: form.food.trim(), count: left, mass_g: null, jar: null };
    drafts.push({ kind: 'leftovers', subject, fields: meal_fields(lying, false) });
  }
  return { drafts };
}

/** The planned mass holds only for the planned food in the planned number. */
function mass_as_planned(course: Course | undefined, form: Form): number | null {
  if (!course || form.food.trim() !== course.food || form.count !== count_text(course)) return null;
  return course.mass_g;
}

function meal_fields(course: Course, dusted: boolean): EntryFields {
  return {
    ...(course.food ? { item: course.food } : {}),
    ...(course.count === null ? {} : { count: course.count }),
    ...(course.mass_g === null ? {} : { mass: `${rounded(course.mass_g)}g` }),
    ...(course.jar && dusted ? { target: `jar ${course.jar}` } : {}),
  };
}

/** Without the dust of floating point: to a hundredth of a gram, finer than any kitchen scale. */
function rounded(mass_g: number): number {
  return Math.round(mass_g * 100) / 100;
}

function count_text(course: Course | undefined): string {
  return course?.count === undefined || course.count === null ? '' : String(course.count);
}

function whole_number(text: string): number | null | 'fault' {
  if (text.trim() === '') return null;
  return /^\d{1,5}$/.test(text.trim()) ? Number(text.trim()) : 'fault';
}

/** What the form's mass is in grams, to be held against the last; null: not a mass. */
export function form_mass_g(form: Form): number | null {
  const value = parse_decimal(form.mass);
  return value === null || value <= 0 ? null : grams(value, form.mass_unit);
}
