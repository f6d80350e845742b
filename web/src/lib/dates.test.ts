import { describe, expect, it } from 'vitest';
import { date_words, instant_of_wall, moment_words, wall } from './dates';

const kOslo = 'Europe/Oslo';

describe('the room\'s clock', () => {
  it('has its own day', () => {
    // Oslo is an hour ahead of UTC in winter: half past eleven at night in UTC is tomorrow there.
    expect(wall(new Date('2026-11-30T23:30:00Z'), kOslo)).toEqual({ date: '2026-12-01', time: '00:30' });
    expect(wall(new Date('2026-11-30T23:30:00Z'), 'America/New_York')).toEqual({ date: '2026-11-30', time: '18:30' });
  });

  it('goes back to instants, summer and winter', () => {
    expect(instant_of_wall('2026-11-30', '07:12', kOslo)?.toISOString()).toBe('2026-11-30T06:12:00.000Z');
    expect(instant_of_wall('2026-07-01', '07:12', kOslo)?.toISOString()).toBe('2026-07-01T05:12:00.000Z');
    expect(instant_of_wall('2026-07-01', '07:12', 'Asia/Kathmandu')?.toISOString()).toBe('2026-07-01T01:27:00.000Z');
  });

  // In 2026 the European Union's clocks change on 29 March and 25 October at 01:00 UTC (directive
  // 2000/84/EC: the last Sundays).
  it('knows the two days of change', () => {
    expect(instant_of_wall('2026-10-25', '02:30', kOslo)?.toISOString()).toBe('2026-10-25T00:30:00.000Z'); // first of two
    expect(instant_of_wall('2026-10-25', '03:30', kOslo)?.toISOString()).toBe('2026-10-25T02:30:00.000Z');
    expect(instant_of_wall('2026-03-29', '02:30', kOslo)?.toISOString()).toBe('2026-03-29T01:30:00.000Z'); // shown as 03:30
    expect(instant_of_wall('2026-03-29', '01:30', kOslo)?.toISOString()).toBe('2026-03-29T00:30:00.000Z');
  });

  it('refuses what is no time', () => {
    expect(instant_of_wall('', '07:12', kOslo)).toBeNull();
    expect(instant_of_wall('2026-13-01', '07:12', kOslo)).toBeNull();
    expect(instant_of_wall('2026-11-30', '7', kOslo)).toBeNull();
  });

  it('is told in words', () => {
    expect(date_words('2026-11-25')).toBe('Wednesday 25 November 2026');
    const now = new Date('2026-11-30T09:00:00Z');
    expect(moment_words(new Date('2026-11-30T06:12:00Z'), now, kOslo)).toBe('07:12');
    expect(moment_words(new Date('2026-11-29T06:12:00Z'), now, kOslo)).toBe('Sun 29 Nov 07:12');
  });
});
