// Figures in the units that the room is set to, as people read them. The server speaks metric; what a
// keeper types goes back with the unit it was typed in. Nothing here rounds what is stored.

import { grams, type Units } from './units';

/** Three figures that count, without noughts that say nothing: 70.5, 1.47, 495, 1240. */
export function three_figures(value: number): string {
  if (Math.abs(value) >= 1000) return String(Math.round(value));
  return String(Number(value.toPrecision(3)));
}

export function mass_words(mass_g: number, units: Units): string {
  if (units === 'us') {
    const pound_g = grams(1, 'lb');
    return mass_g >= pound_g ? `${three_figures(mass_g / pound_g)} lb` : `${three_figures(mass_g / grams(1, 'oz'))} oz`;
  }
  return mass_g >= 1000 ? `${three_figures(mass_g / 1000)} kg` : `${three_figures(mass_g)} g`;
}

/** A temperature on the scale of the room; by its definition 0 C is 32 F and a step of 5 C one of 9 F. */
export function in_room_degrees(value_c: number, units: Units): number {
  return units === 'us' ? value_c * 1.8 + 32 : value_c;
}

export function degree_sign(units: Units): string {
  return units === 'us' ? '°F' : '°C';
}

export function temperature_words(value_c: number, units: Units): string {
  return `${in_room_degrees(value_c, units).toFixed(1)} ${degree_sign(units)}`;
}

export function length_words(length_m: number, units: Units): string {
  // An inch is 25.4 mm (international yard and pound agreement of 1959).
  return units === 'us' ? `${three_figures(length_m / 0.0254)} in` : `${three_figures(length_m * 100)} cm`;
}

export function signed_percent(percent: number): string {
  return `${percent < 0 ? '−' : '+'}${Math.abs(percent).toFixed(1)} %`;
}

/** A value of a care profile taken apart: "27C..31C", "5d", "0.7UVI..1UVI". */
export interface Measure {
  low: number;
  high: number; // as low where it is one value
  unit: string; // as the profile writes it; empty: a plain number
}

export function measure_of(value: string): Measure | null {
  const found = /^(-?\d+(?:\.\d+)?)([A-Za-z%]*)(?:\.\.(-?\d+(?:\.\d+)?)([A-Za-z%]*))?$/.exec(value);
  if (!found) return null;
  const [, low = '', unit = '', high, other] = found;
  if (high !== undefined && other !== unit) return null;
  return { low: Number(low), high: Number(high ?? low), unit };
}

const kUnitWords: Record<string, string> = { UVI: 'UV index', d: 'days', h: 'hours' };

/** The profile's value for people; what is not a measure is told as it stands. */
export function value_words(value: string, units: Units): string {
  const measure = measure_of(value);
  if (!measure) return value.replaceAll('_', ' ');
  const is_heat = measure.unit === 'C';
  const shown = (one: number) => three_figures(is_heat ? in_room_degrees(one, units) : one);
  const unit = is_heat ? degree_sign(units) : (kUnitWords[measure.unit] ?? measure.unit);
  if (measure.unit === 'g') return range_words(measure, (one) => mass_words(one, units));
  const numbers = range_words(measure, shown);
  if (unit === 'days' && numbers === '1') return '1 day';
  return unit === 'UV index' ? `${unit} ${numbers}` : unit ? `${numbers} ${unit}` : numbers;
}

function range_words({ low, high }: Measure, words: (one: number) => string): string {
  return low === high ? words(low) : `${words(low)} – ${words(high)}`;
}
