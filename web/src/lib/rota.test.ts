import { describe, expect, it } from 'vitest';
import { by_verdict, days_between, food_needs, grouped, short_number, span_words, unknown_lines, type Meal, type Need } from './rota';

const meals: Meal[] = [
  { date: '2026-11-30', animal: 'Moss', food: 'cricket', count: 3, jar: 'jar-calcium' },
  { date: '2026-12-06', animal: 'Agate', food: 'cricket', count: 2, jar: null },
  { date: '2026-12-07', animal: 'Moss', food: 'roach', count: 1, jar: 'jar-calcium' },
  { date: '2026-12-07', animal: 'Agate', food: 'cricket', count: 2, jar: 'jar-a' },
];

describe('the rota', () => {
  it('is read by day, by animal and by jar', () => {
    const keys = (view: 'day' | 'animal' | 'jar') => grouped(meals, view).map((one) => [one.key, one.meals.length]);
    expect(keys('day')).toEqual([['2026-11-30', 1], ['2026-12-06', 1], ['2026-12-07', 2]]);
    expect(keys('animal')).toEqual([['Agate', 2], ['Moss', 2]]);
    expect(keys('jar')).toEqual([['jar-a', 1], ['jar-calcium', 2], ['', 1]]);
  });
  it('counts what is needed in the first seven days and in all', () => {
    // 6 December is the seventh day from 30 November, 7 December the eighth.
    expect(food_needs(meals)).toEqual([
      { food: 'cricket', in_grams: false, first_days: 5, all: 7 },
      { food: 'roach', in_grams: false, first_days: 0, all: 1 },
    ]);
    expect(food_needs([])).toEqual([]);
    const greens = (date: string, mass: string) => ({ date, animal: 'Ochre', food: `meal of ${mass} g of greens`, count: 2, jar: null });
    expect(food_needs([greens('2026-11-30', '18'), greens('2026-12-20', '1.5')])).toEqual([
      { food: 'greens', in_grams: true, first_days: 36, all: 39 },
    ]);
    expect(days_between('2026-10-24', '2026-10-26')).toBe(2);
  });
});

describe('words of the rota', () => {
  it('say spans, and that an end is not known', () => {
    expect(short_number(1234.5)).toBe('1230');
    expect(short_number(0.31324)).toBe('0.313');
    expect(span_words({ low: 54.63, high: 105.58 })).toBe('54.6 to 106');
    expect(span_words({ low: 3, high: 3.001 })).toBe('3');
    expect(span_words({ low: 3, high: null })).toBe('at least 3');
  });
  it('tell first what is not met', () => {
    const needs = (['surely enough', 'unknown', 'surely too little'] as const).map((verdict) => ({ verdict }) as Need);
    expect(by_verdict(needs).map((one) => one.verdict)).toEqual(['surely too little', 'unknown', 'surely enough']);
  });
  it('tell once for each animal what cannot be judged', () => {
    const one = { animal: 'Agate', nutrient: 'calcium', limit: true, because: 'food cricket' } as const;
    expect(unknown_lines([one, { ...one, limit: false }, { ...one, nutrient: 'vitamin A', because: 'food roach' }])).toEqual([
      { animal: 'Agate', because: 'food cricket, food roach', nutrients: 'calcium, vitamin A' },
    ]);
  });
});
