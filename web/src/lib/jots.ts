// What can be jotted on an animal's page beside the round. Where the round lists such work for the
// animal today, that task itself is written, so that it is ticked there too.

import type { Animal } from './animal';
import type { Round } from './round';
import type { Outcome, Task } from './tasks';

export const kJots = ['weigh', 'fed', 'refused', 'shed', 'note'] as const;
export type Jot = (typeof kJots)[number];
export type TaskJot = Exclude<Jot, 'note'>;

const kTaskOf: Record<TaskJot, Task['task']> = {
  weigh: 'weighing', fed: 'feeding', refused: 'feeding', shed: 'shed_check',
};
export const kOutcomeOf: Partial<Record<TaskJot, Outcome>> = { refused: 'refused', shed: 'shed_complete' };

/** The task of today's round that a jot settles, with its stop; null: none is due. */
export function listed_task(round: Round | null, ticked: ReadonlySet<string>, key: (task: Task) => string, jot: TaskJot, id: string): { task: Task; where: string } | null {
  for (const stop of round?.round ?? []) {
    const task = stop.tasks.find((one) => one.task === kTaskOf[jot] && one.subject_kind === 'animal' && one.subject === id);
    if (task && !ticked.has(key(task))) return { task, where: stop.title };
  }
  return null;
}

/** A task made up for the sheet where none is due: with the last weighing, or the last meal as its plan. */
export function made_up_task(jot: TaskJot, title: string, animal: Animal, last_words: string): Task {
  const last_meal = animal.entries.find((entry) => entry.kind === 'fed' && !entry.struck);
  const upcoming = animal.tasks.find((task) => task.task === kTaskOf[jot]);
  const meal = last_meal?.item ? [{ food: last_meal.item, count: last_meal.count ?? null, mass_g: last_meal.mass_g ?? null, jar: null }] : [];
  return {
    task: kTaskOf[jot], title, animal: animal.animal, enclosure: animal.home, subject_kind: 'animal',
    subject: animal.animal, detail: jot === 'weigh' ? last_words : (upcoming?.detail ?? ''),
    reason: upcoming?.reason ?? '', due: animal.date, late_days: 0, every_days: upcoming?.every_days ?? 1,
    ...(kTaskOf[jot] === 'feeding' ? { courses: upcoming?.courses ?? meal } : {}),
    ...(jot === 'weigh' ? { last_mass_g: animal.weighings.at(-1)?.mass_g ?? null } : {}),
  };
}
