import { describe, expect, test } from 'vitest';
import {
  events_of, form_kind, override_form, override_id, override_of, override_record, record_facts, verdict_of,
  type Animal, type Sign, type Weights,
} from './animal';
import type { Finding } from './api';

const sign = (response: Sign['response']): Sign => ({ response, says: 'x', evidence: '', advice: '', for_vet: '', source: '' });
const finding = (when: Finding['when']): Finding => ({
  when, subject: 'a', subject_kind: 'animal', headline: 'h', evidence: 'e', advice: 'a', source: 's', module: 'health',
});

describe('the verdict', () => {
  test('of nothing is not known, never well', () => {
    expect(verdict_of({ signs: [], findings: [] })).toBe('unknown');
  });
  test('is the most urgent of all reasons', () => {
    expect(verdict_of({ signs: [sign('change nothing'), sign('change nothing')], findings: [] })).toBe('well');
    expect(verdict_of({ signs: [sign('change nothing'), sign('watch')], findings: [] })).toBe('watch');
    expect(verdict_of({ signs: [sign('change nothing')], findings: [finding('good to know')] })).toBe('well');
    expect(verdict_of({ signs: [sign('change nothing')], findings: [finding('this week')] })).toBe('watch');
    expect(verdict_of({ signs: [sign('call the vet'), sign('weigh again')], findings: [finding('today')] })).toBe('call_vet');
    expect(verdict_of({ signs: [sign('call the vet')], findings: [finding('now')] })).toBe('now');
  });
});

describe('own values', () => {
  const overrides = [
    { id: 'a', species: 'corn_snake', key: 'night', value: '20C', reason: 'r' },
    { id: 'b', animal: 'juniper', key: 'night', value: '21C', reason: 'r' },
    { id: 'c', animal: 'rowan', key: 'night', value: '22C', reason: 'r' },
  ];
  test('of the animal go before those of its species, and others’ do not count', () => {
    expect(override_of(overrides, 'juniper', 'corn_snake', 'night')?.['id']).toBe('b');
    expect(override_of(overrides, 'basalt', 'corn_snake', 'night')?.['id']).toBe('a');
    expect(override_of(overrides, 'basalt', 'royal_python', 'night')).toBeNull();
    expect(override_of(overrides, 'juniper', 'corn_snake', 'humidity')).toBeNull();
  });
  test('are typed as the profile has them, in the room’s degrees', () => {
    expect([form_kind('20C..24C'), form_kind('5d'), form_kind('none')]).toEqual(['range', 'number', 'words']);
    expect(override_form('20C..25C', 'why', 'us')).toMatchObject({ low: '68', high: '77', reason: 'why' });
  });
  test('become a record with their unit', () => {
    const form = { low: '20,5', high: '24', words: '', reason: ' a vet said so ' };
    expect(override_record('id', 'juniper', 'night', '18C..22C', form, 'metric')).toEqual({
      record: { id: 'id', animal: 'juniper', key: 'night', value: '20.5C..24C', reason: 'a vet said so' },
    });
    expect(override_record('id', 'juniper', 'night', '18C..22C', { ...form, low: '68', high: '75' }, 'us')).toMatchObject({
      record: { value: '68F..75F' },
    });
    expect(override_record('id', 'juniper', 'feed_interval_adult', '10d', { ...form, low: '9' }, 'us')).toMatchObject({ record: { value: '9d' } });
    expect(override_record('id', 'juniper', 'native_latitude', '-20', { ...form, low: '-18.5' }, 'metric')).toMatchObject({ record: { value: '-18.5' } });
    expect(override_record('id', 'juniper', 'brumation', 'none', { ...form, words: 'optional' }, 'metric')).toMatchObject({ record: { value: 'optional' } });
  });
  test('that cannot be read, are upside down or have no reason are told', () => {
    const form = { low: '20', high: '24', words: '', reason: 'r' };
    const made = (change: object) => override_record('id', 'a', 'night', '18C..22C', { ...form, ...change }, 'metric');
    expect(made({ low: '' })).toEqual({ fault: 'number' });
    expect(made({ high: 'warm' })).toEqual({ fault: 'number' });
    expect(made({ low: '25' })).toEqual({ fault: 'order' });
    expect(made({ reason: ' ' })).toEqual({ fault: 'reason' });
    expect(override_record('id', 'a', 'brumation', 'none', form, 'metric')).toEqual({ fault: 'words' });
  });
  test('have ids that the room file allows', () => {
    expect(override_id('juniper', 'feed_interval_adult')).toMatch(/^[a-z0-9][a-z0-9_-]{0,63}$/);
    expect(override_id('a'.repeat(64), 'night')).toHaveLength(64);
    // Two keys of an animal with a long id must not share one id.
    expect(override_id('a'.repeat(64), 'night')).not.toBe(override_id('a'.repeat(64), 'humidity'));
  });
});

test('events: only those asked for, the latest first and no more than wanted', () => {
  const event = (at: string, kind: string) => ({ at, kind, text: kind });
  const weights: Weights = {
    animal: 'a', weighings: [], band: [],
    events: [event('2026-01-01T00:00:00Z', 'fed'), event('2026-01-02T00:00:00Z', 'shed'), event('2026-01-03T00:00:00Z', 'refused'), event('2026-01-04T00:00:00Z', 'fed')],
  };
  expect(events_of(weights, ['fed', 'refused'], 2).map((one) => one.at.slice(8, 10))).toEqual(['04', '03']);
});

test('facts of a record: named ones only; what is not so is not said', () => {
  const record = { id: 'a', species: 'corn_snake', breeding: false, marks: 'red' } as Animal['record'];
  expect(record_facts(record, { species: 'Species', breeding: 'Breeding', marks: 'Known by' }, 'yes')).toEqual([['Species', 'corn snake'], ['Known by', 'red']]);
  expect(record_facts({ ...record, breeding: true }, { breeding: 'Breeding' }, 'yes')).toEqual([['Breeding', 'yes']]);
});
