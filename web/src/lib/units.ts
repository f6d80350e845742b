// Numbers as people type them, with comma or point, and the units that the room is set to.
// What is sent is text with its unit ("412.5g"), as the notebook holds it; nothing is converted on
// the phone but to compare.

export type MassUnit = 'g' | 'kg' | 'oz' | 'lb';
export type Units = 'metric' | 'us';

// Grams. Avoirdupois pound: exactly 453.59237 g, an ounce a sixteenth (international yard and pound
// agreement of 1959).
const kGrams: Record<MassUnit, number> = { g: 1, kg: 1000, oz: 453.59237 / 16, lb: 453.59237 };

export function mass_units(units: Units): MassUnit[] {
  return units === 'us' ? ['oz', 'lb', 'g'] : ['g', 'kg'];
}

/** A number above zero with at most one comma or point; null: not such a number. */
export function parse_decimal(text: string): number | null {
  const plain = text.trim().replace(',', '.');
  if (!/^(\d+\.?\d*|\.\d+)$/.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
}

/** "412.5g" as the notebook wants it; null: not a mass above zero. */
export function mass_text(typed: string, unit: MassUnit): string | null {
  const value = parse_decimal(typed);
  return value !== null && value > 0 ? `${value}${unit}` : null;
}

export function grams(value: number, unit: MassUnit): number {
  return value * kGrams[unit];
}

/** The first mass in words such as "before it is fed; 1.68 kg on 2026-10-26", in grams. */
export function mass_in_words(words: string): number | null {
  const found = /(\d+(?:\.\d+)?)\s*(kg|g|oz|lb)\b/.exec(words);
  return found ? grams(Number(found[1]), found[2] as MassUnit) : null;
}

/** The unit in which a mass was written in such words, so that the next is typed in the same. */
export function unit_in_words(words: string): MassUnit | null {
  const found = /\d\s*(kg|g|oz|lb)\b/.exec(words);
  return found ? (found[1] as MassUnit) : null;
}

// A weighing this far from the last is more often a slip of the finger or of the unit than an
// animal. Common practice, no source.
const kMuchShare = 0.2;

/** By which share a weighing differs from the last, where that is much; else null. */
export function much_off(now_g: number, last_g: number | null): number | null {
  if (last_g === null || last_g <= 0) return null;
  const share = now_g / last_g - 1;
  return Math.abs(share) > kMuchShare ? share : null;
}
