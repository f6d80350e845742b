// Who may sign in: asked of the server and changed there, never kept on the phone.

import { answer_of, api, type Answer } from './api';
import type { components } from './api_types';
import type { Role } from './session';

export type Person = components['schemas']['Person'];

export const kRoles: readonly Role[] = ['owner', 'keeper', 'sitter'];

// As the server has it (docs/app.md; docs/openapi.json, NewPerson).
const kLeastLetters = 12;

export interface PersonForm {
  name: string;
  role: Role;
  passphrase: string;
}

/** Which field the server would refuse. */
export function person_fault(form: PersonForm): 'name' | 'passphrase' | null {
  if (!/^[^/\u0000-\u001f]{1,64}$/.test(form.name.trim())) return 'name';
  return [...form.passphrase].length < kLeastLetters ? 'passphrase' : null;
}

/** Whether taking a person out would leave the room without an owner. */
export function is_last_owner(people: Person[], name: string): boolean {
  const owners = people.filter((one) => one.role === 'owner');
  return owners.length === 1 && owners[0]!.name === name;
}

export async function ask_people(): Promise<Answer<Person[]>> {
  const answer = await answer_of(api.GET('/api/people'));
  return answer.ok ? { ok: true, value: answer.value.people ?? [] } : answer;
}

export function put_person(form: PersonForm): Promise<Answer<unknown>> {
  const body = { role: form.role, passphrase: form.passphrase };
  return answer_of<unknown>(api.PUT('/api/people/{name}', { params: { path: { name: form.name.trim() } }, body }));
}

export function remove_person(name: string): Promise<Answer<unknown>> {
  return answer_of<unknown>(api.DELETE('/api/people/{name}', { params: { path: { name } } }));
}
