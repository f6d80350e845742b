// What an enclosure's page says, from what the server knows of it.

import type { NotebookPage } from './api';
import type { paths } from './api_types';
import { common } from './strings/common';

export type Enclosure =
  paths['/api/enclosures/{id}']['get']['responses'][200]['content']['application/json'];
export type Equipment = Enclosure['equipment'][number];
export type Climate = Enclosure['climate'];
export type Computed = Extract<Climate, { computed: true }>;
export type Uv = NonNullable<Enclosure['uv']>;
export type Reading = NotebookPage['entries'][number];

/** In the order in which one looks at it. */
export const kEquipmentKinds = ['thermostat', 'heater', 'lamp', 'instrument', 'tool'] as const;

export function equipment_of(equipment: Equipment[], kind: (typeof kEquipmentKinds)[number]): Equipment[] {
  return equipment.filter((one) => one.record_kind === kind);
}

/** What is told of a thing beside its id: its fields but for those that say where it belongs. */
export function equipment_facts(one: Equipment): [name: string, value: string][] {
  const left_out = new Set(['id', 'record_kind', 'kind', 'enclosure']);
  return Object.entries(one)
    .filter(([name]) => !left_out.has(name))
    .map(([name, value]) => [name.replaceAll('_', ' '), said(value)]);
}

/** The latest readings that hold, newest first, of a notebook's page. */
export function readings_that_hold(page: NotebookPage, at_most: number): Reading[] {
  return page.entries.filter((entry) => !entry.struck).slice(0, at_most);
}

/** The record's fields but for its id and name, which stand at the top. */
export function enclosure_facts(record: Enclosure['record']): [name: string, value: string][] {
  return Object.entries(record)
    .filter(([name]) => name !== 'id' && name !== 'name')
    .map(([name, value]) => [name.replaceAll('_', ' '), said(value)]);
}

export interface Probe {
  id: string;
  place: string; // empty: nobody has said
}

/** Everything that feels the climate there: probes of thermostats, and instruments. */
export function probes_of(equipment: Equipment[]): Probe[] {
  return equipment.flatMap((one) => {
    if (one.record_kind === 'thermostat') return [{ id: one.id, place: one.probe_place ?? '' }];
    if (one.record_kind === 'instrument') return [{ id: one.id, place: one.place ?? '' }];
    return [];
  });
}

function said(value: unknown): string {
  return value === true ? common.yes : value === false ? common.no : String(value);
}
