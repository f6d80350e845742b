// The words and the sign that say whether what was written on this phone is in the book.

import { common } from './strings/common';
import type { SendState } from './sender';

export interface SyncLine {
  words: string[]; // a line each
  sign: 'sent' | 'waiting' | 'cut' | 'look';
}

export function sync_line(of: {
  waiting: number; // to be sent
  refused: number;
  reachable: boolean;
  sending: boolean;
  state: SendState;
}): SyncLine {
  const words: string[] = [];
  if (!of.reachable) words.push(common.sync.not_reachable);
  else if (of.state === 'sign_in') words.push(common.sync.sign_in);
  else if (of.state === 'busy' && of.waiting > 0) words.push(common.sync.busy);
  if (of.waiting > 0) words.push(common.sync.waiting(of.waiting));
  if (of.refused > 0) words.push(common.sync.refused(of.refused));
  if (words.length === 0) words.push(of.sending ? common.sync.sending : common.sync.all_sent);
  const sign = of.refused > 0 ? 'look' : !of.reachable ? 'cut' : of.waiting > 0 || of.sending ? 'waiting' : of.state === 'sign_in' ? 'look' : 'sent';
  return { words, sign };
}
