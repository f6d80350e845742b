// The words that people read and a screen reader says, where a number or a state is in them.
import { describe, expect, it } from 'vitest';
import { trouble_of } from './api';
import { make_entry, make_strike, subject_of } from './entries';
import { editable_fields, mended } from './mend';
import { link_to, may_open, place_of } from './routes';
import { common } from './strings/common';
import { placed_words, round_words, sheet_words, written_words } from './strings/round';
import { sync_line } from './sync_line';
import type { Task } from './tasks';

const at = new Date('2026-11-30T06:12:00Z');

describe('the sync line', () => {
  const calm = { waiting: 0, refused: 0, reachable: true, sending: false, state: 'all_sent' } as const;
  it.each([
    [{}, ['All sent'], 'sent'],
    [{ waiting: 3 }, ['3 waiting on this phone'], 'waiting'],
    [{ waiting: 3, reachable: false }, ['Not reachable', '3 waiting on this phone'], 'cut'],
    [{ reachable: false }, ['Not reachable'], 'cut'],
    [{ waiting: 1, state: 'sign_in' }, ['Sign in to send', '1 waiting on this phone'], 'waiting'],
    [{ waiting: 1, state: 'busy' }, ['The server is busy', '1 waiting on this phone'], 'waiting'],
    [{ refused: 2 }, ['2 entries need a look'], 'look'],
  ] as const)('%j', (change, words, sign) => {
    expect(sync_line({ ...calm, ...change })).toEqual({ words, sign });
  });
});

describe('words', () => {
  const feed = { title: 'feed Agate' } as Task;
  it('count', () => {
    expect(round_words.late(1)).toBe('1 day late');
    expect(round_words.late(5)).toBe('5 days late');
    expect(common.sync.refused(1)).toBe('1 entry needs a look');
    expect(common.clock_off(-4)).toContain('4 minutes behind');
  });
  it('say what was written', () => {
    expect(written_words(feed, [{ kind: 'fed', item: 'cricket', count: 5 }])).toBe('feed Agate: 5 x cricket');
    expect(written_words(feed, [{ kind: 'refused', item: 'cricket', count: 5 }])).toBe('feed Agate: refused 5 x cricket');
    expect(written_words(feed, [{ kind: 'fed' }])).toBe('feed Agate');
    expect(written_words({ title: 'weigh Agate' } as Task, [{ kind: 'weighed', mass: '71.5g' }])).toBe('weigh Agate: 71.5 g');
  });
  it('say where, unless it is told by the animal', () => {
    expect(placed_words({ animal: null, enclosure: 'rack-a-1' } as Task, 'fresh water', 'Rack A')).toBe('fresh water, Rack A');
    expect(placed_words({ animal: 'agate', enclosure: 'rack-a-1' } as Task, 'feed Agate', 'Rack A')).toBe('feed Agate');
    expect(placed_words({ animal: null, enclosure: null } as Task, 'drain it', 'Preparation')).toBe('drain it');
  });
  it('say how far a weighing is off', () => {
    expect(sheet_words.much_off(-0.254, '812 g on 2026-11-17')).toMatch(/^That is 25 % less than last time: 812 g on 2026-11-17\./);
  });
  it('name the button for a screen reader', () => {
    expect(round_words.more_for(feed)).toBe('More for: feed Agate');
  });
});

describe('trouble', () => {
  it('is one of five', () => {
    expect(trouble_of(401, undefined)).toEqual({ kind: 'sign_in' });
    expect(trouble_of(403, undefined)).toEqual({ kind: 'not_allowed' });
    expect(trouble_of(429, undefined)).toEqual({ kind: 'busy' });
    expect(trouble_of(503, undefined)).toEqual({ kind: 'busy' });
    expect(trouble_of(400, { problems: [{ what: 'no' }] })).toEqual({ kind: 'refused', status: 400, problems: [{ what: 'no' }] });
    expect(trouble_of(413, 'text')).toMatchObject({ kind: 'refused', problems: [{ what: 'status 413' }] });
  });
});

describe('places', () => {
  it('are read from the address and made again', () => {
    expect(place_of('#/animal/agate')).toMatchObject({ page: 'animal', id: 'agate' });
    expect(place_of('#/trace?animal=moss').query.get('animal')).toBe('moss');
    expect(place_of('')).toMatchObject({ page: 'round', id: '' });
    expect(place_of('#/nonsense/%E0%A4%A')).toMatchObject({ page: 'round', id: '' });
    expect(place_of(link_to('enclosure', 'rack-a-1'))).toMatchObject({ page: 'enclosure', id: 'rack-a-1' });
  });
  it('are open to some', () => {
    expect(may_open('round', 'sitter')).toBe(true);
    expect(may_open('notebook', 'sitter')).toBe(false);
    expect(may_open('people', 'keeper')).toBe(false);
    expect(may_open('round', null)).toBe(false);
  });
});

describe('entries', () => {
  const fed = make_entry('fed', { kind: 'animal', id: 'agate' }, { item: 'cricket', count: 5, note: '' }, at, at);
  it('stand as the notebook wants them', () => {
    expect(fed).toEqual({ id: fed.id, at: '2026-11-30T06:12:00.000Z', kind: 'fed', animal: 'agate', item: 'cricket', count: 5 });
    expect(subject_of(fed)).toEqual({ kind: 'animal', id: 'agate' });
    expect(make_strike(fed, at)).toMatchObject({ kind: 'struck', animal: 'agate', strikes: fed.id });
  });
  it('are mended under their id', () => {
    expect(editable_fields(fed).map((field) => field.name)).toEqual(['count', 'item', 'note']);
    const now = mended(fed, [{ name: 'count', value: '4' }, { name: 'item', value: ' ' }, { name: 'note', value: 'two ran off' }], null);
    expect(now).toEqual({ id: fed.id, at: fed.at, kind: 'fed', animal: 'agate', count: 4, note: 'two ran off' });
  });
});
