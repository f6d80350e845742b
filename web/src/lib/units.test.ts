import { describe, expect, it } from 'vitest';
import { grams, mass_in_words, mass_text, much_off, parse_decimal, unit_in_words } from './units';

describe('numbers as typed', () => {
  it.each([['412', 412], ['412.5', 412.5], ['412,5', 412.5], [' 0,75 ', 0.75], ['.5', 0.5], ['412.', 412]])('%s is %d', (typed, value) => {
    expect(parse_decimal(typed)).toBe(value);
  });

  it.each(['', ' ', ',', '1,234.5', '1.2.3', '-3', '1e3', '12 g', 'NaN', '٣', '1'.repeat(400)])('"%s" is none', (typed) => {
    expect(parse_decimal(typed)).toBeNull();
  });

  it('carry their unit to the notebook', () => {
    expect(mass_text('412,5', 'g')).toBe('412.5g');
    expect(mass_text('1.68', 'kg')).toBe('1.68kg');
    expect(mass_text('0', 'g')).toBeNull();
  });
});

describe('the last weighing', () => {
  it('is read from the task\'s words', () => {
    expect(mass_in_words('before it is fed; 1.68 kg on 2026-10-26')).toBe(1680);
    expect(unit_in_words('before it is fed; 1.68 kg on 2026-10-26')).toBe('kg');
    expect(mass_in_words('before it is fed')).toBeNull();
  });

  it('makes a fifth more or less much, and no less than that', () => {
    expect(much_off(120, 100)).toBeNull();
    expect(much_off(121, 100)).toBeCloseTo(0.21, 12);
    expect(much_off(79, 100)).toBeCloseTo(-0.21, 12);
    expect(much_off(5, null)).toBeNull();
  });

  // One avoirdupois pound is 453.59237 g by definition (1959), an ounce a sixteenth of it.
  it('is compared over units', () => {
    expect(grams(1, 'lb')).toBe(453.59237);
    expect(grams(16, 'oz')).toBeCloseTo(453.59237, 12);
  });
});
