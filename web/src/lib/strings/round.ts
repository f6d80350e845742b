// Words of the round, and the names that a screen reader says.

import type { Finding } from '../api';
import type { Entry } from '../entries';
import type { TaskState } from '../round';
import type { Course, FormFault, Outcome, Task } from '../tasks';
import { counted } from './common';

export const round_words = {
  title: 'The round',
  other_day: 'This is the round of an earlier day, as the server last said. Daily work is shown as due again.',
  progress: (done: number, all: number) => `${done} of ${all} done`,
  next: (title: string) => `Next: ${title}`,
  all_done: 'All done for today.',

  findings: 'What was noticed',
  nothing_noticed: 'Nothing was noticed. All readings and weighings are in order.',
  whens: { now: 'Now', today: 'Today', 'this week': 'This week', 'good to know': 'Good to know' } satisfies Record<Finding['when'], string>,
  do: 'Do',
  source: 'Source',
  cautions: 'Cautions for every day',

  stops: 'The stops, cleanest first',
  stop: (number: number, title: string) => `${number}. ${title}`,
  before: (title: string) => `Before ${title}`,
  late: (days: number) => `${counted(days, 'day', 'days')} late`,
  more_for: (task: Task) => `More for: ${task.title}`,
  tap_done: 'Tap when done:',
  tap_write: 'Tap to write down:',
  why: (reason: string) => `Why: ${reason}`,
  all_done_here: (n: number) => `All ${n} done here`,
  stop_done: (n: number) => counted(n, 'task done', 'tasks done'),
  state: {
    due: '', waiting: 'Saved on this phone', in_book: 'In the book', refused: 'Not taken by the book',
  } satisfies Record<TaskState, string>,
  done_before: (label: string, when: string) => `Written ${when}: ${label}`,
  snack_done: (label: string) => `Saved: ${label}`,
  snack_all: (n: number, title: string) => `Saved: ${n} at ${title}`,
  snack_undone: (label: string) => `Taken back: ${label}`,
  after: 'When all is done',
  ahead: 'The next seven days',
  ahead_none: 'Nothing more.',
  print: 'Print the round',

  none_due: 'Nothing is due today.',
  empty_title: 'No animals yet',
  empty: 'The round is made from the animals and enclosures of your room. Begin with one enclosure and who lives in it; the program knows what the species needs.',
  empty_link: 'Begin with the set-up',
  empty_demo: 'To look around first: the command “warmside demo” makes an invented room.',
  never_loaded: 'This phone has not seen a round yet. It needs the server once; from then on the last round opens without a signal.',
};

export const sheet_words = {
  how: 'How it went',
  outcomes: {
    done: 'Done', eaten: 'Eaten', refused: 'Refused', some_left: 'Left some', no_mites: 'No mites seen',
    mites: 'Mites found', looked: 'Looked at', shed_complete: 'Shed, complete', shed_stuck: 'Shed, some stuck',
  } satisfies Record<Outcome, string>,
  mass: 'Mass',
  unit: 'Unit',
  uvi: 'UV index',
  uvi_caution: 'Do not look into the lamp. Hold the meter, not your face, where the animal basks.',
  food: 'Food',
  count: 'How many',
  meal_mass: (unit: string) => `Or how much, in ${unit}`,
  left: 'How many were left',
  fewer: 'One fewer',
  more: 'One more',
  dusted: (jar: string) => `Dusted from ${jar}`,
  also: (course: Course) => `Also, as planned: ${course_words(course)}`,
  item: 'How it went, or with what',
  note: 'Remark',
  when: 'Another time',
  day: 'Day',
  time: 'Time',
  later_than_now: 'That time has not come yet.',
  save: 'Save',
  last: (words: string) => `Last time: ${words}`,
  much_off: (share: number, last: string) =>
    `That is ${Math.abs(Math.round(share * 100))} % ${share > 0 ? 'more' : 'less'} than last time: ${last}. Look at the scale and the unit again; if it stands, save it.`,
  faults: {
    mass: 'Type a number above zero, such as 412 or 412,5.',
    uvi: 'Type a number, such as 2.4 or 2,4.',
    count: 'Type a whole number, or leave it empty.',
    left: 'Type a whole number, or leave it empty.',
  } satisfies Record<FormFault, string>,
};

export function course_words(course: Course): string {
  return course.count === null ? course.food : `${course.count} x ${course.food}`;
}

/** What entries say of a task, for the list of what was written. */
export function written_words(task: Task, entries: Pick<Entry, 'kind' | 'mass' | 'uvi' | 'item' | 'count'>[]): string {
  const parts = entries.map((entry) => {
    const count = entry.count === undefined ? '' : `${entry.count} x `;
    const value = spaced(entry.mass) ?? spaced(entry.uvi) ?? (entry.item ? `${count}${entry.item}` : entry.count === undefined ? '' : String(entry.count));
    const said = kSaid[entry.kind] ?? '';
    return [said, value].filter((part) => part).join(' ');
  });
  const words = parts.filter((part) => part).join(', ');
  return words ? `${task.title}: ${words}` : task.title;
}

/** With the stop, where the words alone would not say whose water it was. */
export function placed_words(task: Task, words: string, where: string): string {
  return task.animal === null && task.enclosure !== null ? `${words}, ${where}` : words;
}

const kSaid: Partial<Record<Entry['kind'], string>> = { refused: 'refused', leftovers: 'left', shed: 'shed' };

/** "71.5 g" of "71.5g". */
function spaced(quantity: string | undefined): string | undefined {
  return quantity?.replace(/(\d)([A-Za-z])/, '$1 $2');
}
