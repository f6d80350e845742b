import type { EntryForm, PartName } from '../entry_forms';
import { counted } from './common';
import { kind_name } from './things';

export const notebook_words = {
  title: 'Notebook',
  add: 'Write an entry',
  waiting: 'Waiting on this phone',
  waiting_what: 'Not in the book yet.',
  waiting_refused: 'Not taken by the book.',
  waiting_link: 'See what waits',

  find: 'Find',
  narrow: 'Search and filter',
  narrowed: (n: number) => `Search and filter (${counted(n, 'in use', 'in use')})`,
  text: 'Words',
  subject_kind: 'About',
  subject: 'Which one',
  kind: 'Kind of entry',
  all: 'All',
  clear: 'Show all',
  kept_only: 'Searched only in what this phone has kept: the newest entries.',
  found: (n: number, more: boolean) => (more ? `The newest ${n}. Older ones are below.` : counted(n, 'entry', 'entries')),

  older: 'Show older',
  no_more: 'There are no older ones.',
  none_found: 'Nothing in the notebook is like that. Ask for less, or look at all.',
  empty_title: 'Nothing is written yet',
  empty: 'All that happens in the room is written here: meals, weighings, readings, moves. Ticking off the round writes by itself; anything else you write here. What is written stays, and a mistake is struck by a later entry.',
  never_loaded: 'This phone has not seen the notebook yet. It needs the server once.',

  by: (who: string) => `by ${who}`,
  struck: 'Struck: does not hold',
  strikes: 'Strikes an earlier entry',
  strike: 'Strike',
  strike_title: 'Strike this entry?',
  strike_why: 'It stays in the notebook, marked as struck, and no longer counts. A strike cannot be taken back: what was right after all is written anew.',
  strike_note: 'Why (a remark)',
  strike_yes: 'Strike it',
  strike_label: (subject: string, text: string) => `struck: ${subject}, ${text}`,

  form_title: 'Write an entry',
  what: 'What happened',
  note: 'Remark',
  save: 'Save',
  label: (kind: string, subject: string, value: string) => [`${subject}: ${kind.toLowerCase()}`, value].filter((part) => part).join(' '),
  no_things: (kind: string) => `The room has no ${kind} yet. Add it in the set-up.`,
  no_records: 'What is in the room could not be asked, so there is nothing to choose from. Try again when the server can be reached.',
  parts: {
    mass: 'Mass', length: 'Length', temperature: 'Temperature', humidity: 'Humidity, %', uvi: 'UV index', count: 'How many',
    item: 'What', target: 'To or with', strikes: 'Strikes',
  } satisfies Record<PartName, string>,
  unit: (part: string) => `Unit of ${part.toLowerCase()}`,
  optional: (label: string) => `${label} (if known)`,
  faults: {
    mass: 'Type a number above zero, such as 412 or 412,5.',
    length: 'Type a number above zero, such as 38 or 38,5.',
    temperature: 'Type a number, such as 28 or 28,5. A reading needs a temperature or a humidity.',
    humidity: 'Type a number from 0 to 100.',
    uvi: 'Type a number, such as 2.4 or 2,4.',
    count: 'Type a whole number.',
    item: 'Say what.',
    target: 'Choose one.',
    subject: 'Choose what it is about.',
    note: 'A note needs words.',
    strikes: '',
  },
};

export function part_label(form: EntryForm, part: PartName): string {
  if (part === 'count' && form.kind === 'disinfected') return 'Minutes of contact';
  if (part === 'target' && form.target.length === 1) return form.kind === 'moved' ? 'To which enclosure' : kTargets[form.kind] ?? kind_name(form.target[0]!);
  return notebook_words.parts[part];
}

const kTargets: Record<string, string> = { fed: 'Dusted from which jar', refused: 'Dusted from which jar', leftovers: 'Who was given them' };
