import type { MendableName } from '../mend';
import { counted } from './common';

export const waiting_words = {
  title: 'Waiting on this phone',
  none: 'Nothing waits. All that was written here is in the book.',
  intro: (n: number) =>
    `${counted(n, 'entry waits', 'entries wait')} to be sent. They go in this order as soon as the server can be reached, and stay here until it says that it has them.`,
  send: 'Send now',
  refused: 'Not taken by the book',
  refused_why: 'The book says:',
  edit: 'Mend it',
  again: 'Send it again',
  discard: 'Throw it away',
  discard_ask: 'Throw this entry away? It is not in the book, and there will be nothing left of it.',
  day: 'Day',
  time: 'Time',
  fields: {
    mass: 'Mass with its unit', length: 'Length with its unit', temperature: 'Temperature with its unit',
    humidity: 'Humidity', uvi: 'UV index', count: 'How many', item: 'What', note: 'Remark', target: 'With or to',
  } satisfies Record<MendableName, string>,
  save_file: 'Save them as a file',
  save_file_why: 'A notebook file that the program can import, should this phone be lost or cleared.',
  written_by: (who: string) => `written by ${who}`,
  clear: 'Clear this phone',
  clear_why: 'Forgets all that this phone keeps of the room. The book itself is not touched.',
  clear_ask: 'Forget all that this phone keeps of the room?',
  clear_ask_waiting: (n: number) =>
    `${counted(n, 'entry is', 'entries are')} not in the book. Clearing loses them for ever. Save them as a file first.`,
  clear_yes: 'Clear it',
};
