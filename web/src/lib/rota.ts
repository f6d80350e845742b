// The rota as lists to read: by day, by animal or by jar, and how much food it takes. The rota itself
// and whether it is enough are worked out by the server.

import type { components } from './api_types';

export type RotaAnswer = components['schemas']['diet_rota.schema'];
export type Meal = NonNullable<RotaAnswer['days']>[number];
export type Total = NonNullable<RotaAnswer['totals']>[number];
export type Need = Total['needs'][number];

export const kViews = ['day', 'animal', 'jar'] as const;
export type RotaView = (typeof kViews)[number];

export interface MealGroup {
  key: string; // a date, an animal's name, a jar's id; empty: no jar
  meals: Meal[];
}

/** Meals in groups; days in order of time, the others by name, and those without a jar last. */
export function grouped(meals: Meal[], view: RotaView): MealGroup[] {
  const key_of = { day: (one: Meal) => one.date, animal: (one: Meal) => one.animal, jar: (one: Meal) => one.jar ?? '' }[view];
  const groups = new Map<string, Meal[]>();
  for (const meal of meals) groups.set(key_of(meal), [...(groups.get(key_of(meal)) ?? []), meal]);
  return [...groups]
    .map(([key, list]) => ({ key, meals: list }))
    .sort((a, b) => Number(a.key === '') - Number(b.key === '') || a.key.localeCompare(b.key));
}

export interface FoodNeed {
  food: string;
  in_grams: boolean; // else in pieces
  first_days: number; // in the first seven days
  all: number;
}

const kWeek_d = 7;
const kDay_ms = 86_400_000;

/** Days from one date to another. */
export function days_between(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / kDay_ms);
}

/** What the rota takes of each food, counted from its first day. */
export function food_needs(meals: Meal[]): FoodNeed[] {
  const first = meals.reduce((least, one) => (one.date < least ? one.date : least), meals[0]?.date ?? '');
  const needs = new Map<string, FoodNeed>();
  for (const meal of meals) {
    // The server names what is weighed as "meal of 18 g of dandelion greens".
    const weighed = /^meal of ([\d.]+) g of (.+)$/.exec(meal.food);
    const food = weighed?.[2] ?? meal.food;
    const amount = meal.count * Number(weighed?.[1] ?? 1);
    const need = needs.get(food) ?? { food, in_grams: weighed !== null, first_days: 0, all: 0 };
    need.all += amount;
    if (days_between(first, meal.date) < kWeek_d) need.first_days += amount;
    needs.set(food, need);
  }
  return [...needs.values()].sort((a, b) => a.food.localeCompare(b.food));
}

/** A number in at most three digits that count. */
export function short_number(value: number): string {
  return new Intl.NumberFormat('en-GB', { maximumSignificantDigits: 3, useGrouping: false }).format(value);
}

/** "48 to 106", "at least 48" where the upper end is not known. */
export function span_words(span: { low: number; high: number | null }): string {
  if (span.high === null) return `at least ${short_number(span.low)}`;
  const [low, high] = [short_number(span.low), short_number(span.high)];
  return low === high ? low : `${low} to ${high}`;
}

/** Needs that are told first: those which are surely not met; then the doubtful; then the rest. */
export function by_verdict(needs: Need[]): Need[] {
  const order: Need['verdict'][] = ['surely too little', 'surely too much', 'unsure', 'unknown', 'surely enough'];
  return [...needs].sort((a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict));
}

export interface Unknown {
  animal: string;
  because: string; // foods and jars
  nutrients: string;
}

/** What cannot be judged, one line for each animal. */
export function unknown_lines(unknown: RotaAnswer['unknown']): Unknown[] {
  const lines = new Map<string, { because: Set<string>; nutrients: Set<string> }>();
  for (const one of unknown) {
    const line = lines.get(one.animal) ?? { because: new Set(), nutrients: new Set() };
    line.because.add(one.because);
    line.nutrients.add(one.nutrient);
    lines.set(one.animal, line);
  }
  return [...lines].map(([animal, line]) => ({
    animal, because: [...line.because].join(', '), nutrients: [...line.nutrients].join(', '),
  }));
}
