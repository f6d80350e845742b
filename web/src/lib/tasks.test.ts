import { describe, expect, it } from 'vitest';
import { kEntryKinds } from './entries';
import { drafts_of, fields_of, last_mass_g, last_mass_words, one_tap, outcomes_of, planned_form, usual_mass_unit, words_of_sheet, type Task } from './tasks';

function task(kind: string, more: Partial<Task> = {}): Task {
  return {
    task: kind as Task['task'], title: 'the work', animal: null, enclosure: 'rack-a-1', subject_kind: 'enclosure',
    subject: 'rack-a-1', detail: '', reason: '', due: '2026-11-30', late_days: 0, every_days: 1, ...more,
  };
}
const juniper = { subject_kind: 'animal', subject: 'juniper', animal: 'juniper' } as const;

function tapped(one: Task) {
  const made = drafts_of(one, planned_form(one, 'g'));
  if ('fault' in made) throw new Error(made.fault);
  return made.drafts.map(({ kind, subject, fields }) => ({ kind, subject: `${subject.kind} ${subject.id}`, ...fields }));
}

// The kinds of entry, what they are about and what they must have: docs/notebook.md.
describe('a tap', () => {
  it.each([
    ['water', {}, { kind: 'watered', subject: 'enclosure rack-a-1', note: '' }],
    ['misting', {}, { kind: 'misted', subject: 'enclosure rack-a-1', note: '' }],
    ['spot_clean', {}, { kind: 'spot_cleaned', subject: 'enclosure rack-a-1', note: '' }],
    ['full_clean', {}, { kind: 'full_cleaned', subject: 'enclosure rack-a-1', note: '', item: '' }],
    ['thermostat_test', { subject_kind: 'thermostat', subject: 't' }, { kind: 'tested', subject: 'thermostat t', note: '', item: '' }],
    ['smoke_alarm_test', { subject_kind: 'safety_device', subject: 's' }, { kind: 'tested', subject: 'safety_device s', note: '', item: '' }],
    ['jar_age', { subject_kind: 'jar', subject: 'j' }, { kind: 'replaced', subject: 'jar j', note: '' }],
    ['lamp_replacement', { subject_kind: 'lamp', subject: 'l' }, { kind: 'replaced', subject: 'lamp l', note: '' }],
    ['cord_check', juniper, { kind: 'checked', subject: 'animal juniper', item: 'cords', note: '' }],
    ['quarantine_faecal_test', juniper, { kind: 'checked', subject: 'animal juniper', item: 'faecal sample', note: '' }],
    ['shed_check', juniper, { kind: 'checked', subject: 'animal juniper', item: 'shed', note: '' }],
    ['standing', { subject_kind: 'task', subject: 'k' }, { kind: 'done', subject: 'task k', note: '' }],
    ['thaw', { subject_kind: 'supply', subject: 'mice', title: 'take 2 x mouse' }, { kind: 'note', subject: 'supply mice', note: 'take 2 x mouse' }],
    ['something_new', { title: 'look at it' }, { kind: 'note', subject: 'enclosure rack-a-1', note: 'look at it' }],
  ] as [string, Partial<Task>, object][])('on %s writes its entry', (kind, more, expected) => {
    expect(one_tap(task(kind, more))).toBe(true);
    expect(tapped(task(kind, more))).toEqual([expected]);
  });

  it('on a meal writes the planned foods, numbers and jars', () => {
    const courses = [
      { food: 'banded cricket', count: 5, mass_g: null, jar: 'jar-retinol' },
      { food: 'greens', count: null, mass_g: 12, jar: null },
    ];
    expect(tapped(task('feeding', { ...juniper, courses }))).toEqual([
      { kind: 'fed', subject: 'animal juniper', item: 'banded cricket', count: 5, target: 'jar jar-retinol', note: '' },
      { kind: 'fed', subject: 'animal juniper', item: 'greens', mass: '12g' },
    ]);
  });

  it('does not do where something has to be told first', () => {
    expect(one_tap(task('weighing', juniper))).toBe(false);
    expect(one_tap(task('uv_reading', { subject_kind: 'lamp' }))).toBe(false);
    expect(one_tap(task('quarantine_mite_check', juniper))).toBe(false);
    expect(one_tap(task('feeding', { ...juniper, courses: [] }))).toBe(false); // the plan names no food
  });
});

describe('the sheet', () => {
  const meal = task('feeding', { ...juniper, courses: [{ food: 'adult mouse', count: 2, mass_g: 44, jar: 'jar-ca' }] });

  it('writes a refusal and leftovers', () => {
    const form = planned_form(meal, 'g');
    expect(drafts_of(meal, { ...form, outcome: 'refused', note: 'in shed?' })).toEqual({
      drafts: [{ kind: 'refused', subject: { kind: 'animal', id: 'juniper' }, fields: { item: 'adult mouse', count: 2, mass: '44g', target: 'jar jar-ca', note: 'in shed?' } }],
    });
    expect(drafts_of(meal, { ...form, outcome: 'some_left', left: '1' })).toEqual({
      drafts: [
        { kind: 'fed', subject: { kind: 'animal', id: 'juniper' }, fields: { item: 'adult mouse', count: 2, mass: '44g', target: 'jar jar-ca', note: '' } },
        { kind: 'leftovers', subject: { kind: 'animal', id: 'juniper' }, fields: { item: 'adult mouse', count: 1 } },
      ],
    });
  });

  it('forgets the planned mass when the number is another, and the jar when it was not dusted', () => {
    const form = { ...planned_form(meal, 'g'), count: '1', dusted: false };
    expect(drafts_of(meal, form)).toEqual({
      drafts: [{ kind: 'fed', subject: { kind: 'animal', id: 'juniper' }, fields: { item: 'adult mouse', count: 1, note: '' } }],
    });
  });

  it('weighs a meal that is not counted', () => {
    const greens = task('feeding', { ...juniper, courses: [{ food: 'greens', count: null, mass_g: 18, jar: null }] });
    const form = planned_form(greens, 'oz');
    expect(form).toMatchObject({ mass: '18', mass_unit: 'g' });
    expect(drafts_of(greens, { ...form, mass: '20,5' })).toMatchObject({ drafts: [{ fields: { item: 'greens', mass: '20.5g' } }] });
    expect(drafts_of(greens, { ...form, mass: '1', mass_unit: 'oz' })).toMatchObject({ drafts: [{ fields: { mass: '28.35g' } }] }); // 453.59237 g / 16
    expect(drafts_of(greens, { ...form, mass: 'much' })).toEqual({ fault: 'mass' });
  });

  it('names the field that cannot be read', () => {
    const form = planned_form(meal, 'g');
    expect(drafts_of(meal, { ...form, count: 'two' })).toEqual({ fault: 'count' });
    expect(drafts_of(meal, { ...form, outcome: 'some_left', left: '-1' })).toEqual({ fault: 'left' });
    expect(drafts_of(task('weighing', juniper), form)).toEqual({ fault: 'mass' });
    expect(drafts_of(task('uv_reading'), form)).toEqual({ fault: 'uvi' });
  });

  it('writes weighings and UV readings with their unit', () => {
    const form = planned_form(meal, 'g');
    expect(drafts_of(task('weighing', juniper), { ...form, mass: '412,5' })).toMatchObject({ drafts: [{ kind: 'weighed', fields: { mass: '412.5g' } }] });
    expect(drafts_of(task('uv_reading'), { ...form, uvi: '2,4' })).toMatchObject({ drafts: [{ kind: 'uv_reading', fields: { uvi: '2.4UVI' } }] });
  });

  it.each([['no_mites', 'mites: negative'], ['mites', 'mites: positive'], ['looked', 'mites']] as const)('writes %s as "%s"', (outcome, item) => {
    const check = task('quarantine_mite_check', juniper);
    expect(outcomes_of(check)).toContain(outcome);
    expect(drafts_of(check, { ...planned_form(check, 'g'), outcome })).toMatchObject({ drafts: [{ kind: 'checked', fields: { item } }] });
  });

  it('writes a shed that ended', () => {
    const check = task('shed_check', juniper);
    const form = planned_form(check, 'g');
    expect(drafts_of(check, { ...form, outcome: 'shed_stuck' })).toMatchObject({ drafts: [{ kind: 'shed', fields: { item: 'stuck' } }] });
  });

  it('asks for what the outcome needs', () => {
    expect(fields_of(meal, 'some_left')).toEqual(['meal', 'left']);
    expect(fields_of(task('water'), 'done')).toEqual([]);
  });

  it('takes the last mass from the words, and its unit where the room has it', () => {
    const weighing = task('weighing', { detail: 'before it is fed; 1.68 kg on 2026-10-26' });
    expect(last_mass_words(weighing)).toBe('1.68 kg on 2026-10-26');
    expect(words_of_sheet(weighing)).toBe('before it is fed');
    expect(last_mass_g(weighing)).toBe(1680);
    expect(usual_mass_unit(weighing, 'metric')).toBe('kg');
    expect(usual_mass_unit(weighing, 'us')).toBe('oz');
    expect(last_mass_g(task('weighing', { detail: 'before it is fed' }))).toBeNull();
  });

  it('makes only kinds that the notebook has', () => {
    for (const kind of ['water', 'feeding', 'thaw', 'standing', 'lamp_replacement', 'cord_check']) {
      for (const one of tapped(task(kind))) expect(kEntryKinds).toContain(one.kind);
    }
  });
});
