import { expect, test } from 'vitest';
import { animal_rows, search } from './animals_list';
import type { Finding } from './api';
import { walls_of, type PlanEnclosure } from './room_plan';

const enclosure = (id: string, more: Partial<PlanEnclosure>): PlanEnclosure => ({
  id, name: id, place: '', rack: '', shelf: null, position: null, animals: [], worst: null, findings: 0, due: 0, ...more,
});

test('racks stand with the top shelf first and go from left to right; what has no place comes last', () => {
  const walls = walls_of([
    enclosure('lost', {}),
    enclosure('b', { place: 'west', rack: 'r', shelf: 1, position: 2 }),
    enclosure('a', { place: 'west', rack: 'r', shelf: 1, position: 1 }),
    enclosure('top', { place: 'west', rack: 'r', shelf: 3, position: 1 }),
    enclosure('unsaid', { place: 'west', rack: 'r' }),
    enclosure('table', { place: 'west' }),
    enclosure('corner', { place: 'east' }),
  ]);
  expect(walls.map((wall) => wall.place)).toEqual(['east', 'west', '']);
  const west = walls[1]!;
  expect(west.stands.map((stand) => stand.rack)).toEqual(['r', '']);
  expect(west.stands[0]!.shelves.map((shelf) => [shelf.number, shelf.enclosures.map((one) => one.id).join()])).toEqual([
    [3, 'top'], [1, 'a,b'], [null, 'unsaid'],
  ]);
});

const finding = (subject: string, when: Finding['when'], subject_kind: Finding['subject_kind'] = 'animal'): Finding => ({
  when, subject, subject_kind, headline: `${subject} ${when}`, evidence: 'e', advice: 'a', source: 's', module: 'health',
});

test('the list: who needs something first, then by name; those gone last', () => {
  const plan = { name: '', date: '2026-11-30', room_findings: [], enclosures: [enclosure('e', { name: 'Glass', animals: [
    { id: 'moss', name: 'Moss', species: 'Crested gecko' }, { id: 'fern', name: 'Fern', species: 'Crested gecko' },
  ] })] };
  const records = [
    { id: 'moss', species: 'crested_gecko' }, { id: 'fern', species: 'crested_gecko' },
    { id: 'abel', species: 'corn_snake', name: 'Abel', left: '2026-11-30' }, { id: 'zoe', species: 'corn_snake' },
  ];
  const rows = animal_rows(plan, records, [finding('moss', 'this week'), finding('moss', 'today'), finding('fern', 'now', 'task'), finding('abel', 'now')], '2026-11-30');
  expect(rows.map((row) => [row.id, row.worst, row.gone])).toEqual([
    ['moss', 'today', false], ['fern', null, false], ['zoe', null, false], ['abel', 'now', true],
  ]);
  expect(rows[0]).toMatchObject({ name: 'Moss', species: 'Crested gecko', where: 'Glass', headline: 'moss today' });
  expect(rows[2]).toMatchObject({ name: 'zoe', species: 'corn snake', where: '' });
  expect(search(rows, ' GLASS ').map((row) => row.id)).toEqual(['moss', 'fern']);
  expect(search(rows, 'xyz')).toEqual([]);
  expect(search(rows, '')).toHaveLength(4);
});
