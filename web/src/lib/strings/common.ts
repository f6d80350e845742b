// Words that several pages use. All that people read stands in this folder, one table a page, so
// that it is read over in one go and no component holds a sentence of its own.

import type { Trouble } from '../api';
import type { PageName } from '../routes';
import type { Look } from '../theme';

export function counted(n: number, one: string, many: string): string {
  return `${n} ${n === 1 ? one : many}`;
}

export const common = {
  app: 'Warmside',
  skip: 'Go to the page',
  places: 'Places',
  pages: {
    round: 'Round', animals: 'Animals', animal: 'Animal', room: 'Room', enclosure: 'Enclosure',
    notebook: 'Notebook', more: 'More', trace: 'Trace', rota: 'Rota', setup: 'Set-up', people: 'People',
    about: 'About', waiting: 'Waiting on this phone',
  } satisfies Record<PageName, string>,
  not_for_role: 'This page is not for your role. Ask the owner of the room.',
  loading: 'Opening…',
  page_broken: 'This page could not be opened. What you wrote is kept. Try again when the server can be reached.',
  close: 'Close',
  cancel: 'Cancel',
  undo: 'Undo',
  yes: 'yes',
  no: 'no',
  try_again: 'Try again',
  looks: { auto: 'As the phone', light: 'Light', dark: 'Dark' } satisfies Record<Look, string>,
  look: 'Light or dark',

  sync: {
    all_sent: 'All sent',
    sending: 'Sending…',
    not_reachable: 'Not reachable',
    busy: 'The server is busy',
    sign_in: 'Sign in to send',
    waiting: (n: number) => `${n} waiting on this phone`,
    refused: (n: number) => counted(n, 'entry needs a look', 'entries need a look'),
    open: 'What waits on this phone',
  },
  as_of: (time: string) => `As of ${time}`,
  not_reachable_as_of: (time: string) => `As of ${time}, not reachable`,
  newer_shell: 'A newer version of this app is here.',
  take_newer: 'Open it',
  no_worker:
    'This phone keeps what you write, but cannot open the app without a signal until it trusts the server.',
  no_worker_link: 'How to change that',
  clock_off: (minutes: number) =>
    `This phone's clock is ${counted(Math.abs(minutes), 'minute', 'minutes')} ${minutes > 0 ? 'ahead of' : 'behind'} the server's. Times that you write will be off by as much.`,
  no_store:
    'This browser keeps nothing for this page, so nothing can be written here. Leave private browsing, or allow the page to store data, and open it again.',
  not_saved: 'This phone could not keep the entry. It is not written. Write it on paper.',

  trouble: (trouble: Trouble): string => {
    switch (trouble.kind) {
      case 'not_reachable': return 'The server cannot be reached.';
      case 'sign_in': return 'You are signed out. Sign in to go on.';
      case 'not_allowed': return 'This is not for your role. Ask the owner of the room.';
      case 'busy': return 'The server is busy. It is tried again in a moment.';
      case 'changed': return 'Somebody else has changed it meanwhile.';
      case 'refused': return trouble.problems.map((problem) => problem.what).join('; ');
    }
  },
};
