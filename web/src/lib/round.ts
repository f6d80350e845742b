// The round as the phone shows it: the server's answer, with what this phone has done today on top.
// The server's round lists only what is due, so a finished task is gone from its next answer; here
// it stays for the day, ticked, so that the keeper sees what was done and can take it back.

import type { RoundAnswer } from './api';
import type { Entry } from './entries';
import type { Tick, Waiting } from './store';
import { one_tap, type Task } from './tasks';

export type Stop = Omit<RoundAnswer['round'][number], 'tasks'> & { tasks: Task[] };
export type Round = Omit<RoundAnswer, 'round' | '$defs'> & { round: Stop[] };

export type TaskState = 'due' | 'waiting' | 'in_book' | 'refused';

export interface TaskView {
  key: string;
  task: Task;
  state: TaskState;
  tick: Tick | null; // null: due
  before: Tick | null; // an earlier tick, of another day or found not to settle it
}

export interface StopView {
  key: string;
  stop: Stop;
  tasks: TaskView[];
  open: number; // tasks that are due
  quick: TaskView[]; // due, and a tap is enough
}

export function task_key(task: Task): string {
  return [task.task, task.subject_kind, task.subject, task.animal ?? '', task.enclosure ?? ''].join('|');
}

export function stop_key(stop: Stop): string {
  return stop.enclosure ?? 'preparation';
}

/**
 * The fresh round, with the stops and tasks of the one shown before that were ticked today and that
 * it no longer lists, each at the place where it stood.
 */
export function merged(before: Round | null, fresh: Round, ticked: ReadonlySet<string>): Round {
  if (!before || before.date !== fresh.date) return fresh;
  const stops = merged_list(before.round, fresh.round, stop_key, (old, now) => {
    const tasks = merged_list(old.tasks, now?.tasks ?? [], task_key, (task, listed) =>
      listed ?? (ticked.has(task_key(task)) ? task : null),
    );
    return tasks.length > 0 ? { ...(now ?? old), tasks } : null;
  });
  return { ...fresh, round: stops };
}

/** `fresh` in its order; what only `before` has stands behind its neighbour there, where `keep` gives it. */
function merged_list<T>(
  before: T[], fresh: T[], key: (item: T) => string, keep: (old: T, now: T | null) => T | null,
): T[] {
  const list = [...fresh];
  let place = 0;
  for (const old of before) {
    const at = list.findIndex((item) => key(item) === key(old));
    const kept = keep(old, at < 0 ? null : list[at]!);
    if (!kept) continue;
    if (at < 0) list.splice(place++, 0, kept);
    else {
      list[at] = kept;
      place = at + 1;
    }
  }
  return list;
}

// A server may answer with a round that it made just before it stored the entry.
const kSettling_ms = 30_000;
// These leave the work due in the book's eyes, and are dealt with for today in the keeper's.
const kDealtWith: ReadonlySet<string> = new Set(['refused', 'leftovers', 'note']);

/**
 * The ticks that still hold beside a fresh round: not those whose entries the book holds though it
 * lists the task as due, such as one struck on another phone.
 */
export function ticks_that_hold(ticks: Tick[], fresh: Round, asked_at_ms: number): Tick[] {
  const listed = new Set(fresh.round.flatMap((stop) => stop.tasks.map(task_key)));
  return ticks.filter((tick) => {
    const settled = tick.confirmed_at !== null && asked_at_ms - tick.confirmed_at > kSettling_ms;
    if (tick.undone) return !settled;
    if (tick.date !== fresh.date) return tick.confirmed_at === null;
    return !settled || !listed.has(tick.key) || tick.entries.some((entry) => kDealtWith.has(entry.kind));
  });
}

/**
 * What is shown of a round. `today`: the room's date now, which a kept round may not have reached.
 * `before`: what was shown last; a stop that has not changed stays the same object, so that in a large
 * room a tap draws one stop anew and not all.
 */
export function view_of(
  round: Round, ticks: Tick[], waiting: Waiting[], today: string, before: StopView[] = [],
): StopView[] {
  const shown = new Map(before.map((view) => [view.key, view]));
  const by_key = new Map(ticks.map((tick) => [tick.key, tick]));
  const by_id = new Map(waiting.map((one) => [one.id, one]));
  return round.round.map((stop) => {
    const tasks = stop.tasks.map((task): TaskView => {
      const key = task_key(task);
      const tick = by_key.get(key) ?? null;
      if (!tick || tick.undone) return { key, task, state: 'due', tick: null, before: null };
      if (tick.date !== today) return { key, task, state: 'due', tick: null, before: tick };
      return { key, task, state: state_of(tick.entries, by_id), tick, before: null };
    });
    const due = tasks.filter((view) => view.state === 'due');
    const quick = due.filter((view) => one_tap(view.task));
    const view: StopView = { key: stop_key(stop), stop, tasks, open: due.length, quick };
    const old = shown.get(view.key);
    return old && same_stop(old, view) ? old : view;
  });
}

function same_stop(a: StopView, b: StopView): boolean {
  return a.stop === b.stop && a.tasks.every((task, i) => {
    const now = b.tasks[i]!;
    return task.state === now.state && same_tick(task.tick, now.tick) && same_tick(task.before, now.before);
  });
}

function same_tick(a: Tick | null, b: Tick | null): boolean {
  return a?.entries[0]?.id === b?.entries[0]?.id;
}

function state_of(entries: Entry[], waiting: Map<string, Waiting>): TaskState {
  const there = entries.map((entry) => waiting.get(entry.id)).filter((one) => one !== undefined);
  if (there.some((one) => one.refused !== null)) return 'refused';
  return there.length > 0 ? 'waiting' : 'in_book';
}

/** The findings by when to act, in that order. */
export const kWhens = ['now', 'today', 'this week', 'good to know'] as const;

export interface BeforeStep {
  what: 'Hands' | 'Gloves' | 'Jar' | 'Tools';
  words: string;
}

/** "Hands: wash with soap" in its two parts. */
export function before_step(text: string): BeforeStep {
  const [what = '', ...words] = text.split(': ');
  return { what: what as BeforeStep['what'], words: words.join(': ') };
}
