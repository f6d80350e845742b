// The list of animals: everyone of the room's records, with where it is and what was noticed about it.

import type { Finding, RoomPlan } from './api';
import type { RoomRecord } from './animal';
import { kWhens } from './round';

export interface AnimalRow {
  id: string;
  name: string;
  species: string;
  where: string; // empty: nobody has said
  worst: Finding['when'] | null; // of what was noticed about the animal itself
  headline: string;
  gone: boolean; // it left the room
}

/** Those with something to see to first, then by name; those who left stand last. */
export function animal_rows(plan: RoomPlan, records: RoomRecord[], findings: Finding[], today: string): AnimalRow[] {
  const rows = new Map<string, AnimalRow>();
  for (const record of records) {
    const id = String(record['id']);
    const left = record['left'];
    rows.set(id, {
      id, name: String(record['name'] ?? id), species: String(record['species']).replaceAll('_', ' '),
      where: '', ...noticed(findings, id), gone: typeof left === 'string' && left <= today,
    });
  }
  for (const enclosure of plan.enclosures) {
    for (const one of enclosure.animals) {
      const row = rows.get(one.id) ?? { id: one.id, gone: false, ...noticed(findings, one.id) };
      rows.set(one.id, { ...row, name: one.name, species: one.species, where: enclosure.name });
    }
  }
  const urgency = (row: AnimalRow) => (row.gone ? 99 : row.worst === null ? kWhens.length : kWhens.indexOf(row.worst));
  return [...rows.values()].sort((a, b) => urgency(a) - urgency(b) || a.name.localeCompare(b.name, 'en-GB'));
}

function noticed(findings: Finding[], id: string): Pick<AnimalRow, 'worst' | 'headline'> {
  const own = findings.filter((one) => one.subject_kind === 'animal' && one.subject === id);
  const worst = kWhens.find((when) => own.some((one) => one.when === when)) ?? null;
  return { worst, headline: own.find((one) => one.when === worst)?.headline ?? '' };
}

/** Those whose name, species or place holds the letters. */
export function search(rows: AnimalRow[], letters: string): AnimalRow[] {
  const wanted = letters.trim().toLowerCase();
  if (wanted === '') return rows;
  return rows.filter((row) => `${row.name} ${row.species} ${row.where}`.toLowerCase().includes(wanted));
}
