// What people call the kinds of things and the kinds of entries.

import type { EntryKind } from '../entries';

export const kind_words: Record<string, string> = {
  room: 'room', keeper: 'keeper', species: 'species of your own', food: 'food of your own', circuit: 'circuit',
  socket: 'socket', timer: 'timer', enclosure: 'enclosure', thermostat: 'thermostat', heater: 'heater', lamp: 'lamp',
  appliance: 'appliance', instrument: 'instrument', tool: 'tool', jar: 'jar', supply: 'supply',
  safety_device: 'alarm or extinguisher', animal: 'animal', override: 'value of your own', task: 'standing task',
};

/** All kinds of things, for a list before the room's own is known. */
export const kThings: readonly string[] = Object.keys(kind_words);

export function kind_name(kind: string): string {
  return kind_words[kind] ?? kind.replaceAll('_', ' ');
}

const kMany: Record<string, string> = {
  room: 'The room itself', keeper: 'Keepers', species: 'Species of your own', food: 'Foods of your own', circuit: 'Circuits', socket: 'Sockets',
  timer: 'Timers', enclosure: 'Enclosures', thermostat: 'Thermostats', heater: 'Heaters', lamp: 'Lamps',
  appliance: 'Appliances', instrument: 'Instruments', tool: 'Tools', jar: 'Jars', supply: 'Supplies',
  safety_device: 'Alarms and extinguishers', animal: 'Animals', override: 'Values of your own', task: 'Standing tasks',
};

export function kind_names(kind: string): string {
  return kMany[kind] ?? kind.replaceAll('_', ' ');
}

export const entry_kind_words: Record<EntryKind, string> = {
  weighed: 'Weighed', measured: 'Measured', fed: 'Fed', refused: 'Refused food', leftovers: 'Left food',
  regurgitated: 'Regurgitated', in_shed: 'In shed', shed: 'Shed', droppings: 'Droppings', watered: 'Fresh water',
  spot_cleaned: 'Spot clean', full_cleaned: 'Full clean', misted: 'Misted', reading: 'Reading',
  uv_reading: 'UV reading', moved: 'Moved', quarantine_started: 'Quarantine began', quarantine_ended: 'Quarantine ended',
  brumation_started: 'Brumation began', brumation_ended: 'Brumation ended', ill: 'Ill', recovered: 'Recovered',
  laid_eggs: 'Laid eggs', checked: 'Checked', tested: 'Tested', used: 'Tool used', disinfected: 'Disinfected',
  opened: 'Opened', replaced: 'Replaced', done: 'Standing task done', note: 'Note', struck: 'Struck',
};

/** "born" or "vitamin D3 iu per g" of a field's name. */
export function field_name(field: string): string {
  const words = field.replaceAll('_', ' ').replace(/\bd3\b/, 'D3').replace(/\biu\b/, 'IU').replace(/\buvb\b/, 'UVB').replace(/\buv\b/, 'UV');
  return words.charAt(0).toUpperCase() + words.slice(1);
}
