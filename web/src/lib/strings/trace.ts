import type { Direction, Step } from '../trace';
import { counted } from './common';

export const trace_words = {
  title: 'Trace',
  intro: 'If an animal is or may be ill: who can have had it from this one, and from whom this one can have it. Read from what the notebook says of moves, tubs, tools, meals and the order of the round.',
  animal: 'Which animal',
  choose: 'Choose one',
  date: { ahead: 'It may shed since', back: 'It had it by' } satisfies Record<Direction, string>,
  direction: 'Which way',
  directions: { ahead: 'Who can have it from this one', back: 'From whom this one can have it' } satisfies Record<Direction, string>,
  ask: 'What to trace',
  ask_again: 'Trace something else',
  go: 'Trace it',
  need_animal: 'Choose an animal.',
  need_date: 'Choose a day.',
  working: 'Tracing…',
  no_animals: 'There are no animals in the book yet.',
  never_loaded: 'This was not traced on this phone before. It needs the server.',

  heading: (animal: string, date: string, direction: Direction) =>
    direction === 'ahead' ? `From ${animal}, since ${date}` : `To ${animal}, up to ${date}`,
  found: (n: number, direction: Direction) =>
    direction === 'ahead' ? `${counted(n, 'animal', 'animals')} can have been reached.` : `It can come from ${counted(n, 'animal', 'animals')}.`,
  none: 'The notebook shows no way. That is no proof: what nobody wrote down is not seen.',
  caution: 'Caution',
  order: (n: number) => (n === 1 ? 'The first to look at' : `Number ${n} to look at`),
  first_at: { ahead: 'At the earliest', back: 'Passed on at the latest' } satisfies Record<Direction, string>,
  steps: (n: number) => counted(n, 'step', 'steps'),
  nothing_stopped: 'No disinfection on the way is known to have stopped anything.',
  not_stopped: (organisms: string[]) => `Disinfection on the way did not stop: ${organisms.join(', ')}. It stopped the other groups.`,
  unknown: 'What could not be used',
  ways: {
    'shared enclosure': 'by the same enclosure', 'shared tub': 'by the same tub', 'shared water': 'by the same water',
    'shared tool': 'by the same tool', leftovers: 'by leftovers', hands: 'by hands', 'air of one rack': 'by the air of the rack',
  } satisfies Record<Step['by'], string>,
  step: (step: Step, from: string, to: string) => `${end(step.from_kind, from)} to ${end(step.to_kind, to)}`,
};

function end(kind: Step['from_kind'], name: string): string {
  switch (kind) {
    case 'hands': return `the hands of the ${name}`;
    case 'tool': return `the tool ${name}`;
    case 'enclosure': return `the enclosure ${name}`;
    default: return name;
  }
}
