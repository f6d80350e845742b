import { describe, expect, it } from 'vitest';
import { is_last_owner, person_fault } from './people';

describe('a person', () => {
  it('has a name that can stand in an address and a passphrase of twelve letters', () => {
    const form = { name: 'Ada', role: 'owner', passphrase: 'four warm stones' } as const;
    expect(person_fault(form)).toBeNull();
    expect(person_fault({ ...form, name: ' ' })).toBe('name');
    expect(person_fault({ ...form, name: 'a/b' })).toBe('name');
    expect(person_fault({ ...form, passphrase: 'elevenlette' })).toBe('passphrase');
    expect(person_fault({ ...form, passphrase: 'twelveletter' })).toBeNull();
  });
  it('who is the last owner cannot be taken out', () => {
    const keeper = { name: 'Ben', role: 'keeper' } as const;
    expect(is_last_owner([{ name: 'Ada', role: 'owner' }, keeper], 'Ada')).toBe(true);
    expect(is_last_owner([{ name: 'Ada', role: 'owner' }, keeper], 'Ben')).toBe(false);
    expect(is_last_owner([{ name: 'Ada', role: 'owner' }, { name: 'Cleo', role: 'owner' }], 'Ada')).toBe(false);
  });
});
