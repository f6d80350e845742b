import { counted } from './common';

export const sign_in_words = {
  title: 'Sign in',
  intro: 'The owner of the room gives you a name and a passphrase.',
  name: 'Name',
  passphrase: 'Passphrase',
  show: 'Show the passphrase',
  submit: 'Sign in',
  busy: 'Signing in…',
  wrong: 'Name or passphrase is not right.',
  wait: 'Too many tries. Wait a little, then try again.',
  kept: (n: number) => `${counted(n, 'entry waits', 'entries wait')} on this phone. Sign in, and they are sent.`,
  sign_out: 'Sign out',
  ask_title: 'Sign out?',
  ask_waiting: (n: number) =>
    `${counted(n, 'entry is', 'entries are')} not in the book yet. What waits stays on this phone and is sent after the next sign-in here.`,
  ask_plain: 'What this phone keeps of the room for times without a signal is forgotten.',
  send_first: 'Send first',
  out_anyway: 'Sign out and keep it here',
  failed: 'The server cannot be reached, so you are still signed in.',
};
