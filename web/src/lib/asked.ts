// The room's records and the kinds of record, as several pages want them: kept on this phone, so that
// a list to choose from is there without a signal.

import { answer_of, api, type RoomPlan } from './api';
import { load, type Loaded } from './kept';
import { records_of, type Choice, type RecordKinds, type Records } from './records';
import type { Store } from './store';
import type { components } from './api_types';
import type { SpeciesProfile } from './setup_steps';

export type SpeciesList = components['schemas']['species_list.schema'];

export function load_records(store: Store, show: (loaded: Loaded<Records>) => void): Promise<void> {
  return load(store, 'records', () => api.GET('/api/records'), show);
}

export function load_kinds(store: Store, show: (loaded: Loaded<RecordKinds>) => void): Promise<void> {
  return load(store, 'kinds', () => api.GET('/api/kinds'), show);
}

export function load_species(store: Store, show: (loaded: Loaded<SpeciesList>) => void): Promise<void> {
  return load(store, 'species', () => api.GET('/api/species'), show);
}

/** The species that the program knows and the room's own, by name. */
export function species_choices(list: SpeciesList | null, records: Records | null): Choice[] {
  const known = (list?.species ?? []).map((one) => ({ id: one.species, name: `${one.common_name} (${one.scientific_name})` }));
  const own = records_of(records, 'species').map((one) => ({ id: String(one['id']), name: String(one['common_name'] ?? one['id']) }));
  const own_ids = new Set(own.map((one) => one.id));
  return [...own, ...known.filter((one) => !own_ids.has(one.id))].sort((a, b) => a.name.localeCompare(b.name));
}

/** One species with its values; null: not known, or not to be had now. */
export async function ask_profile(id: string): Promise<SpeciesProfile | null> {
  const answer = await answer_of<SpeciesProfile>(api.GET('/api/species/{id}', { params: { path: { id } } }));
  return answer.ok ? answer.value : null;
}

/** The ids of the animals that live in an enclosure today, moves counted. */
export async function ask_who_lives_in(enclosure: string): Promise<string[]> {
  const answer = await answer_of<RoomPlan>(api.GET('/api/room'));
  if (!answer.ok) return [];
  return (answer.value.enclosures.find((one) => one.id === enclosure)?.animals ?? []).map((one) => one.id);
}
