// Expected values by definition: 0 C is 32 F and 5 C are 9 F; a pound 453.59237 g, an inch 25.4 mm.
import { describe, expect, test } from 'vitest';
import { in_room_degrees, length_words, mass_words, measure_of, signed_percent, three_figures, value_words } from './measures';

test('three figures that count', () => {
  expect([70.47, 1472.99, 495.28, 0.0383, 9.96, 0].map(three_figures)).toEqual(['70.5', '1473', '495', '0.0383', '9.96', '0']);
});

test('masses in the room’s units', () => {
  expect(mass_words(999, 'metric')).toBe('999 g');
  expect(mass_words(1472.998, 'metric')).toBe('1.47 kg');
  expect(mass_words(453.59237 / 2, 'us')).toBe('8 oz');
  expect(mass_words(2 * 453.59237, 'us')).toBe('2 lb');
});

test('degrees and lengths', () => {
  expect(in_room_degrees(0, 'us')).toBe(32);
  expect(in_room_degrees(100, 'us')).toBe(212);
  expect(in_room_degrees(21.5, 'metric')).toBe(21.5);
  expect(length_words(0.254, 'us')).toBe('10 in');
  expect(length_words(0.32, 'metric')).toBe('32 cm');
  expect(signed_percent(-2.17)).toBe('−2.2 %');
  expect(signed_percent(0.5)).toBe('+0.5 %');
});

describe('a value of a profile', () => {
  test('is taken apart', () => {
    expect(measure_of('27C..31C')).toEqual({ low: 27, high: 31, unit: 'C' });
    expect(measure_of('-2C')).toEqual({ low: -2, high: -2, unit: 'C' });
    expect(measure_of('0.7UVI..1UVI')).toEqual({ low: 0.7, high: 1, unit: 'UVI' });
    expect(measure_of('20')).toEqual({ low: 20, high: 20, unit: '' });
  });
  test('that is words, or has two units, is none', () => {
    for (const value of ['none', '60cm x 45cm x 60cm', '20C..70F', '2-3', '', '20C..']) expect(measure_of(value)).toBeNull();
  });
  test('is told in the room’s units', () => {
    expect(value_words('27C..31C', 'metric')).toBe('27 – 31 °C');
    expect(value_words('20C..25C', 'us')).toBe('68 – 77 °F');
    expect(value_words('5d', 'metric')).toBe('5 days');
    expect(value_words('1d', 'metric')).toBe('1 day');
    expect(value_words('0.7UVI..1UVI', 'metric')).toBe('UV index 0.7 – 1');
    expect(value_words('500g..1200g', 'metric')).toBe('500 g – 1.2 kg');
    expect(value_words('50%..70%', 'metric')).toBe('50 – 70 %');
    expect(value_words('whole_prey', 'metric')).toBe('whole prey');
  });
});
