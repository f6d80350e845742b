import { describe, expect, it } from 'vitest';
import { instant_of, name_of, nothing_stopped, question_of, type Exposed } from './trace';

describe('a question of the trace', () => {
  it('stands in the address', () => {
    expect(question_of(new URLSearchParams('animal=garnet&date=2026-11-01&direction=back'))).toEqual({
      animal: 'garnet', date: '2026-11-01', direction: 'back',
    });
    expect(question_of(new URLSearchParams('animal=garnet&date=2026-11-01&direction=up'))?.direction).toBe('ahead');
    expect(question_of(new URLSearchParams('animal=garnet'))).toBeNull();
    expect(question_of(new URLSearchParams('animal=garnet&date=yesterday'))).toBeNull();
  });
  it('takes in the whole day of the room', () => {
    const question = { animal: 'garnet', date: '2026-11-01', direction: 'ahead' } as const;
    // Oslo is an hour ahead of UTC in November.
    expect(instant_of(question, 'Europe/Oslo')?.toISOString()).toBe('2026-10-31T23:00:00.000Z');
    expect(instant_of({ ...question, direction: 'back' }, 'Europe/Oslo')?.toISOString()).toBe('2026-11-01T22:59:00.000Z');
  });
});

describe('a chain', () => {
  it('names what has a record, and else gives its own words', () => {
    const names = new Map([['animal garnet', 'Garnet']]);
    expect(name_of('garnet', 'animal', names)).toBe('Garnet');
    expect(name_of('garnet', 'tool', names)).toBe('garnet');
    expect(name_of('keeper from 2026-11-09 08:56', 'hands', names)).toBe('keeper from 2026-11-09 08:56');
  });
  it('says whether a disinfection stopped something', () => {
    const exposed = { organisms: ['bacteria'] } as unknown as Exposed;
    expect(nothing_stopped(exposed)).toBe(false);
    const all = ['bacteria', 'enveloped viruses', 'other viruses', 'ranavirus', 'Bd', 'Bsal', 'oocysts'];
    expect(nothing_stopped({ organisms: all } as unknown as Exposed)).toBe(true);
  });
});
