import { describe, expect, it } from 'vitest';
import { make_entry } from './entries';
import { before_step, merged, stop_key, task_key, ticks_that_hold, view_of, type Round, type Stop } from './round';
import type { Tick, Waiting } from './store';
import type { Task } from './tasks';

const kDate = '2026-11-30';

function task(kind: string, enclosure: string): Task {
  return {
    task: kind as Task['task'], title: kind, animal: null, enclosure, subject_kind: 'enclosure', subject: enclosure,
    detail: '', reason: '', due: kDate, late_days: 0, every_days: 1,
  };
}
function stop(enclosure: string, ...kinds: string[]): Stop {
  return {
    enclosure, title: enclosure, where: '', class: 'resident', reason: '', animals: [], animal_names: [], before: ['Hands: wash'],
    tasks: kinds.map((kind) => task(kind, enclosure)),
  };
}
function round(stops: Stop[], date = kDate): Round {
  return { date, room: '', cautions: [], findings: [], round: stops, order: { cost_s: 0, bound_s: 0, proven: true }, after: [], ahead: [] };
}
function tick(one: Task, more: Partial<Tick> = {}): Tick {
  const at = new Date('2026-11-30T06:00:00Z');
  const entries = [make_entry('watered', { kind: 'enclosure', id: one.subject }, {}, at, at)];
  return { key: task_key(one), date: kDate, entries, label: one.title, undone: false, confirmed_at: null, ...more };
}
const shape = (one: Round) => one.round.map((each) => [stop_key(each), ...each.tasks.map((t) => t.task)].join(' '));

describe('a new answer of the server', () => {
  const before = round([stop('a', 'water', 'misting'), stop('b', 'water'), stop('c', 'water')]);

  it('keeps what was ticked at its place', () => {
    const fresh = round([stop('a', 'misting'), stop('c', 'water')]);
    const ticked = new Set([task_key(task('water', 'a')), task_key(task('water', 'b'))]);
    expect(shape(merged(before, fresh, ticked))).toEqual(['a water misting', 'b water', 'c water']);
  });

  it('drops what it lists no more and was not ticked here', () => {
    expect(shape(merged(before, round([stop('c', 'water')]), new Set()))).toEqual(['c water']);
  });

  it('brings what is new, in its order', () => {
    const fresh = round([stop('x', 'water'), stop('b', 'misting', 'water'), stop('a', 'water')]);
    expect(shape(merged(before, fresh, new Set([task_key(task('misting', 'a'))])))).toEqual(['x water', 'b misting water', 'a water misting']);
  });

  it('begins anew on another day', () => {
    const fresh = round([stop('a', 'water')], '2026-12-01');
    expect(merged(before, fresh, new Set([task_key(task('misting', 'a'))]))).toBe(fresh);
    expect(merged(null, fresh, new Set())).toBe(fresh);
  });
});

describe('a tick', () => {
  const water = task('water', 'a');
  const fresh = round([stop('a', 'water')]);
  const kLater = 10_000_000;

  it('holds until the book has had time to count it', () => {
    expect(ticks_that_hold([tick(water)], fresh, kLater)).toHaveLength(1);
    expect(ticks_that_hold([tick(water, { confirmed_at: kLater - 10_000 })], fresh, kLater)).toHaveLength(1);
  });

  it('gives way where the book holds it and still calls the task due', () => {
    expect(ticks_that_hold([tick(water, { confirmed_at: kLater - 60_000 })], fresh, kLater)).toHaveLength(0);
    expect(ticks_that_hold([tick(water, { confirmed_at: kLater - 60_000 })], round([]), kLater)).toHaveLength(1);
  });

  it('taken back is kept until the book has the strikes, and no longer', () => {
    expect(ticks_that_hold([tick(water, { undone: true })], fresh, kLater)).toHaveLength(1);
    expect(ticks_that_hold([tick(water, { undone: true, confirmed_at: kLater - 60_000 })], round([]), kLater)).toHaveLength(0);
  });

  it('of a refusal stays for the day, though the meal is still due', () => {
    const at = new Date(0);
    const refused = tick(water, { confirmed_at: 0, entries: [make_entry('refused', { kind: 'animal', id: 'x' }, {}, at, at)] });
    expect(ticks_that_hold([refused], fresh, kLater)).toHaveLength(1);
  });

  it('of an earlier day stays while the book does not have it', () => {
    expect(ticks_that_hold([tick(water, { date: '2026-11-29' })], fresh, kLater)).toHaveLength(1);
    expect(ticks_that_hold([tick(water, { date: '2026-11-29', confirmed_at: 0 })], fresh, kLater)).toHaveLength(0);
  });
});

describe('what is shown', () => {
  const today = round([stop('a', 'water', 'weighing', 'misting')]);
  const water = tick(task('water', 'a'));
  const waiting = (refused: Waiting['refused']): Waiting => ({ order: 1, id: water.entries[0]!.id, entry: water.entries[0]!, label: '', who: '', refused });
  const state = (ticks: Tick[], some: Waiting[], day = kDate) => view_of(today, ticks, some, day)[0]!.tasks[0]!.state;

  it('tells waiting, in the book and refused apart', () => {
    expect(state([], [])).toBe('due');
    expect(state([water], [waiting(null)])).toBe('waiting');
    expect(state([water], [])).toBe('in_book');
    expect(state([water], [waiting([])])).toBe('refused');
    expect(state([{ ...water, undone: true }], [])).toBe('due');
  });

  it('calls daily work due again on the next day, and says what was written', () => {
    const [first] = view_of(today, [water], [], '2026-12-01');
    expect(first!.tasks[0]).toMatchObject({ state: 'due', before: water });
  });

  it('counts what is open and what a tap can do', () => {
    const [first] = view_of(today, [water], [], kDate);
    expect(first!.open).toBe(2);
    expect(first!.quick.map((one) => one.task.task)).toEqual(['misting']);
  });

  it('gives the same object for a stop that has not changed', () => {
    const two = round([stop('a', 'water'), stop('b', 'water')]);
    const first = view_of(two, [], [], kDate);
    const second = view_of(two, [tick(task('water', 'a'))], [], kDate, first);
    expect(second[1]).toBe(first[1]);
    expect(second[0]).not.toBe(first[0]);
    expect(second[0]!.open).toBe(0);
    const again = view_of(two, [tick(task('water', 'a'))], [], kDate, second); // ticked anew: another entry
    expect(again[0]).not.toBe(second[0]);
  });

  it('splits what to do before a stop', () => {
    expect(before_step('Tools: its own scoop (tape: green)')).toEqual({ what: 'Tools', words: 'its own scoop (tape: green)' });
  });
});
