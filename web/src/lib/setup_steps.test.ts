import { describe, expect, it } from 'vitest';
import {
  beginnings, in_units, kQuick, kSteps, middle_of, one_species, readable, shown_values, size_of, suggestions_for, with_suggestions, type SpeciesProfile,
} from './setup_steps';
import page from '../../../docs/room-file.md?raw';

const value = (key: string, text: string) => ({ key, value: text, status: 'common practice', source: 'common practice, no source', note: '' });
const snake = {
  species: 'corn_snake', common_name: 'Corn snake', scientific_name: '', group: 'snake', activity: '',
  profile: [value('night', '18C..24C'), value('warm_side_air', '26C..30C'), value('min_enclosure', '120cm x 60cm x 60cm')],
} as unknown as SpeciesProfile;

describe('the steps', () => {
  it.each(kQuick)('of a %s ask for fields that it has, and for all that it must have', (kind) => {
    const section = new RegExp(`### \\[\\[${kind}\\]\\]([\\s\\S]*?)(###|$)`).exec(page)?.[1] ?? '';
    const fields = [...section.matchAll(/^\| `(\w+)`( \(must\))?/gm)];
    const known = fields.map((one) => one[1]);
    const must = fields.filter((one) => one[2]).map((one) => one[1]);
    const asked = kSteps[kind].flat();
    expect(known.length).toBeGreaterThan(0);
    expect(asked.filter((field) => !known.includes(field))).toEqual([]);
    expect(must.filter((field) => !asked.includes(field!))).toEqual([]);
    expect(Object.keys(beginnings(kind, '2026-11-30')).filter((field) => !asked.includes(field))).toEqual([]);
  });
});

describe('what the species suggests', () => {
  it('is the middle of a range', () => {
    expect(middle_of('26C..30C')).toBe('28C');
    expect(middle_of('18C..23C')).toBe('20.5C');
    expect(middle_of('-2C..4C')).toBe('1C');
    expect(middle_of('36C')).toBe('36C');
    expect(middle_of('optional')).toBeNull();
    expect(middle_of('26C..86F')).toBeNull();
  });
  it('is the smallest size for an enclosure and set points for a thermostat', () => {
    expect(size_of('120cm x 60cm')).toBeNull();
    const enclosure = suggestions_for('enclosure', snake, 'metric');
    expect([enclosure['length']?.value, enclosure['width']?.value, enclosure['height']?.value]).toEqual(['120cm', '60cm', '60cm']);
    const thermostat = suggestions_for('thermostat', snake, 'metric');
    expect([thermostat['day']?.value, thermostat['night']?.value]).toEqual(['28C', '21C']);
    expect(thermostat['day']?.from.status).toBe('common practice');
  });
  it('is in the units of the room', () => {
    // 28 x 1.8 + 32 = 82.4; 21 x 1.8 + 32 = 69.8; 120 / 2.54 = 47.24; 60 / 2.54 = 23.62.
    expect(suggestions_for('thermostat', snake, 'us')['day']?.value).toBe('82.4F');
    expect(in_units('18C..24C', 'us')).toBe('64.4F..75.2F');
    expect(suggestions_for('enclosure', snake, 'us')['length']?.value).toBe('47.2in');
    expect(in_units('40%..60%', 'us')).toBe('40%..60%');
  });
  it('is read as people read', () => {
    expect(readable('26C..30C', 'metric')).toBe('26 to 30 °C');
    expect(readable('-2C..4C', 'us')).toBe('28.4 to 39.2 °F');
    expect(readable('0UVI..0.7UVI', 'metric')).toBe('0 to 0.7');
    expect(readable('40%..60%', 'metric')).toBe('40 to 60 %');
    expect(readable('90d', 'metric')).toBe('90 days');
    expect(readable('120cm x 60cm x 60cm', 'metric')).toBe('120 cm x 60 cm x 60 cm');
    expect(readable('optional', 'metric')).toBe('optional');
  });
  it('is nothing where nothing is known', () => {
    expect(suggestions_for('thermostat', null, 'us')).toEqual({});
    expect(suggestions_for('thermostat', { ...snake, profile: [] }, 'us')).toEqual({});
    expect(suggestions_for('heater', snake, 'us')).toEqual({});
    expect(shown_values(snake).map((one) => one.key)).toEqual(['warm_side_air', 'night', 'min_enclosure']);
  });
});

describe('a suggestion', () => {
  const day = (text: string) => ({ day: { value: text, from: value('warm_side_air', '') as never } });
  it('never overwrites what was typed', () => {
    expect(with_suggestions({ day: '' }, {}, day('28C'))).toEqual({ day: '28C' });
    expect(with_suggestions({ day: '28C' }, day('28C'), day('25C'))).toEqual({ day: '25C' });
    expect(with_suggestions({ day: '27C' }, day('28C'), day('25C'))).toEqual({ day: '27C' });
    expect(with_suggestions({ day: '28C' }, day('28C'), {})).toEqual({ day: '' });
  });
  it('is not made for two species in one enclosure', () => {
    expect(one_species(['corn_snake', 'corn_snake'])).toBe('corn_snake');
    expect(one_species(['corn_snake', 'crested_gecko'])).toBeNull();
    expect(one_species([])).toBeNull();
  });
});
