// Words of the room's plan.

import type { Worst } from '../room_plan';
import { counted } from './common';

export const room_words = {
  title: 'The room',
  noticed: 'About the room itself',
  no_place: 'Place not said',
  rack: (rack: string) => `Rack ${rack.replace(/^rack[-_ ]?/i, '').toUpperCase()}`,
  by_itself: 'Standing by itself',
  shelf: (n: number | null) => (n === null ? 'Shelf not said' : `Shelf ${n}`),
  worst: { now: 'Now', today: 'Today', 'this week': 'This week', 'good to know': 'Good to know' } satisfies Record<Worst, string>,
  fine: 'Nothing noticed',
  findings: (n: number) => counted(n, 'finding', 'findings'),
  due: (n: number) => `${n} due`,
  nobody: 'Empty',
  key: 'What the signs say',
  empty_title: 'Nothing stands here yet',
  empty: 'The plan draws itself from your enclosures: say for each where it stands, in which rack, on which shelf and at which place from the left.',
  empty_link: 'Add the first enclosure',
  no_plan: 'This phone has not seen the plan yet. It needs the server once.',
};
