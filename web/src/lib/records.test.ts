import { describe, expect, it } from 'vitest';
import { choices_of, form_of, id_from, id_is_good, placed, record_of, type FieldKind, type RecordKind } from './records';

function field(name: string, form: FieldKind['form']): FieldKind {
  return { name, form, must: false, words: [], refers_to: '', quantity: '', meaning: '' };
}
const enclosure: RecordKind = {
  kind: 'enclosure',
  fields: [field('name', 'text'), field('shelf', 'whole'), field('length', 'quantity'), field('water_dish', 'yes_no')],
};

describe('a record', () => {
  it('becomes a form and comes back the same', () => {
    const record = { id: 'rack-a-1', name: 'Rack A', shelf: 1, length: '60cm', water_dish: false };
    const form = form_of(enclosure, record);
    expect(form).toEqual({ name: 'Rack A', shelf: '1', length: '60cm', water_dish: 'false' });
    expect(record_of(enclosure, form, 'rack-a-1', record)).toEqual(record);
  });
  it('leaves out what is empty, keeps what its kind does not list', () => {
    const before = { id: 'a', name: 'A', colour: 'green' };
    expect(record_of(enclosure, { name: ' ', shelf: '' }, 'a', before)).toEqual({ id: 'a', colour: 'green' });
  });
  it('sends a number that cannot be read as it is, for the server to say so', () => {
    expect(record_of(enclosure, { shelf: 'two' }, 'a')).toEqual({ id: 'a', shelf: 'two' });
    expect(record_of(enclosure, { shelf: '2' }, 'a')).toEqual({ id: 'a', shelf: 2 });
    const room: RecordKind = { kind: 'room', fields: [field('latitude', 'number')] };
    expect(record_of(room, { latitude: '-33,9' }, 'room', { id: 'room' })).toEqual({ latitude: -33.9 });
  });
});

describe('problems of the server', () => {
  const problem = (where: string) => ({ what: 'a number without a unit', file: '', line: 0, field: where, expected: 'a length', found: '55' });
  it('stand beside their fields, others by themselves', () => {
    const seen = placed([problem('enclosure newt.length'), problem('heater mat.enclosure')], 'enclosure', 'newt', ['length', 'shelf']);
    expect(seen.at).toEqual({ length: 'a number without a unit; expected a length; found 55' });
    expect(seen.other).toEqual(['heater mat.enclosure: a number without a unit; expected a length; found 55']);
  });
});

describe('an id', () => {
  it('is made from a name and never twice', () => {
    expect(id_from('Große Agáte!', new Set())).toBe('grosse-agate');
    expect(id_from('Moss', new Set(['moss', 'moss-2']))).toBe('moss-3');
    expect(id_from('  ', new Set())).toBe('new');
    expect(id_is_good(id_from('x'.repeat(99), new Set()))).toBe(true);
  });
  it('holds small letters, digits, - and _', () => {
    expect(['a', 'a-1', '0_b'].every(id_is_good)).toBe(true);
    expect(['', '-a', 'A', 'a b', 'a'.repeat(65)].some(id_is_good)).toBe(false);
  });
});

describe('choices', () => {
  it('stand by name, those who left last', () => {
    const animal = [{ id: 'z', name: 'Ash' }, { id: 'a', name: 'Agate', left: '2026-01-01' }, { id: 'm', name: 'Moss' }];
    expect(choices_of({ room: {}, records: { animal }, tags: {}, change: 1 }, 'animal').map((one) => one.id)).toEqual(['z', 'm', 'a']);
  });
});
