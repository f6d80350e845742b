// The room as it stands: walls and places, racks with their shelves from top to bottom, and what is on
// each from left to right.

import type { RoomPlan } from './api';

export type PlanEnclosure = RoomPlan['enclosures'][number];
export type Worst = NonNullable<PlanEnclosure['worst']>;

export interface Shelf {
  number: number | null; // null: nobody has said which
  enclosures: PlanEnclosure[];
}
export interface Stand {
  rack: string; // empty: stands by itself
  shelves: Shelf[];
}
export interface Wall {
  place: string; // empty: nobody has said
  stands: Stand[];
}

/** Places by name, those without one last; in each the racks first, then what stands by itself. */
export function walls_of(enclosures: PlanEnclosure[]): Wall[] {
  const places = grouped(enclosures, (one) => one.place);
  return sorted_keys(places).map((place) => ({ place, stands: stands_of(places.get(place) ?? []) }));
}

function stands_of(enclosures: PlanEnclosure[]): Stand[] {
  const racks = grouped(enclosures, (one) => one.rack);
  return sorted_keys(racks).map((rack) => ({ rack, shelves: shelves_of(racks.get(rack) ?? []) }));
}

/** The top shelf first, as one sees it. */
function shelves_of(enclosures: PlanEnclosure[]): Shelf[] {
  const shelves = grouped(enclosures, (one) => String(one.shelf ?? ''));
  return [...shelves.entries()]
    .map(([number, those]) => ({ number: number === '' ? null : Number(number), enclosures: those.sort(left_to_right) }))
    .sort((a, b) => (b.number ?? -1) - (a.number ?? -1));
}

function left_to_right(a: PlanEnclosure, b: PlanEnclosure): number {
  return (a.position ?? 1e6) - (b.position ?? 1e6) || a.name.localeCompare(b.name, 'en-GB');
}

function grouped(enclosures: PlanEnclosure[], key: (one: PlanEnclosure) => string): Map<string, PlanEnclosure[]> {
  const groups = new Map<string, PlanEnclosure[]>();
  for (const one of enclosures) groups.set(key(one), [...(groups.get(key(one)) ?? []), one]);
  return groups;
}

function sorted_keys(groups: Map<string, unknown>): string[] {
  return [...groups.keys()].sort((a, b) => Number(a === '') - Number(b === '') || a.localeCompare(b, 'en-GB'));
}
