import { expect, test } from 'vitest';
import type { Animal } from './animal';
import { kOutcomeOf, listed_task, made_up_task } from './jots';
import { task_key, type Round } from './round';
import { drafts_of, planned_form, type Task } from './tasks';

const feeding = { task: 'feeding', title: 'feed Moss', animal: 'moss', enclosure: 'e', subject_kind: 'animal', subject: 'moss', detail: '', reason: 'r', due: '2026-11-30', late_days: 0 } as Task;
const round = { round: [{ title: 'Gecko glass', tasks: [feeding] }] } as unknown as Round;
const animal = {
  date: '2026-11-30', animal: 'moss', home: 'e', tasks: [], weighings: [{ at: '2026-11-01T00:00:00Z', mass_g: 40 }],
  entries: [
    { kind: 'fed', item: 'cricket', count: 9, struck: true },
    { kind: 'fed', item: 'banded cricket', count: 5, struck: false },
  ],
} as unknown as Animal;

test('work that the round lists for the animal is taken, once', () => {
  expect(listed_task(round, new Set(), task_key, 'fed', 'moss')).toEqual({ task: feeding, where: 'Gecko glass' });
  expect(listed_task(round, new Set(), task_key, 'refused', 'moss')?.task).toBe(feeding);
  expect(listed_task(round, new Set([task_key(feeding)]), task_key, 'fed', 'moss')).toBeNull();
  expect(listed_task(round, new Set(), task_key, 'weigh', 'moss')).toBeNull();
  expect(listed_task(round, new Set(), task_key, 'fed', 'fern')).toBeNull();
  expect(listed_task(null, new Set(), task_key, 'fed', 'moss')).toBeNull();
});

test('each made-up task becomes the entry that docs/notebook.md asks for', () => {
  const entry = (jot: 'weigh' | 'fed' | 'refused' | 'shed', change: object = {}) => {
    const task = made_up_task(jot, 't', animal, '40 g on 2026-11-01');
    const form = planned_form(task, 'g');
    const made = drafts_of(task, { ...form, ...(kOutcomeOf[jot] ? { outcome: kOutcomeOf[jot] } : {}), ...change });
    return 'drafts' in made ? made.drafts.map(({ kind, subject, fields }) => ({ kind, subject: subject.id, ...fields })) : made;
  };
  expect(entry('weigh', { mass: '41,5' })).toEqual([{ kind: 'weighed', subject: 'moss', note: '', mass: '41.5g' }]);
  expect(entry('weigh')).toEqual({ fault: 'mass' });
  // The last meal that is not struck is offered.
  expect(entry('fed')).toEqual([{ kind: 'fed', subject: 'moss', note: '', item: 'banded cricket', count: 5 }]);
  expect(entry('refused')).toEqual([{ kind: 'refused', subject: 'moss', note: '', item: 'banded cricket', count: 5 }]);
  expect(entry('shed')).toEqual([{ kind: 'shed', subject: 'moss', note: '', item: 'complete' }]);
  expect(entry('shed', { outcome: 'shed_stuck' })).toEqual([{ kind: 'shed', subject: 'moss', note: '', item: 'stuck' }]);
});

test('the weighing warns against the last mass', () => {
  expect(made_up_task('weigh', 't', animal, '').last_mass_g).toBe(40);
});
