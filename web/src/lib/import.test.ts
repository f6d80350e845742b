import { describe, expect, it } from 'vitest';
import { fault_of } from './import';

const file = (name: string, text = '') => ({ name, text });

describe('a choice of files', () => {
  it('is of the kinds that the program reads', () => {
    expect(fault_of([file('room.toml'), file('NOTES.JSONL'), file('weights.csv')])).toBeNull();
    expect(fault_of([file('room.toml'), file('photo.jpg')])).toBe('kinds');
  });
  it('is at most twenty files of together eight mebibytes as sent', () => {
    expect(fault_of(Array.from({ length: 21 }, (_, i) => file(`${i}.csv`)))).toBe('most');
    expect(fault_of([file('a.csv', 'x'.repeat(8 * 1024 * 1024))])).toBe('too_large');
    // 4,800,000 line ends are two bytes each when sent: more than 8,388,608.
    expect(fault_of([file('a.csv', '\n'.repeat(4_800_000))])).toBe('too_large');
    expect(fault_of([file('a.csv', '\n'.repeat(500_000))])).toBeNull();
  });
});
