import { counted } from './common';
import { kind_name } from './things';

export const setup_words = {
  title: 'Set-up',
  intro: 'What the room is made of. Everything the program says comes from this and from the notebook.',
  add: 'Add in a few steps',
  add_kind: (kind: string) => `Add: ${kind_name(kind)}`,
  all: 'All records',
  all_what: 'Everything that the room file can hold, field by field.',
  files: 'Files',
  import: 'Read files into the book',
  export: 'Take the book along',
  export_what: 'Plain text, made to be read and kept: the same book always gives the same files.',
  export_room: 'The room (room.toml)',
  export_notebook: 'The notebook (notebook.jsonl)',
  people: 'Who may sign in',
  never_loaded: 'This phone has not seen the set-up yet. It needs the server once.',
  back: 'Back to the set-up',
  back_to: (kind: string) => `Back to: ${kind}`,
  empty_title: 'An empty room',
  empty: 'Begin with one enclosure, then add who lives in it. The round of tomorrow is made from that. Heaters, lamps and jars can follow one by one.',
  demo: 'The form of everything is in the room file; “Read files into the book” takes one that you have.',

  new_record: 'Add one, all fields',
  in_steps: 'Add one in steps',
  gone: 'left or retired',
  none_of: 'There is none yet.',
  records: (n: number) => counted(n, 'record', 'records'),

  edit: (kind: string, name: string) => `${name} (${kind_name(kind)})`,
  new_of: (kind: string) => `New: ${kind_name(kind)}`,
  id: 'Short name (id)',
  id_what: 'Small letters, digits, - and _. It stays for ever: the notebook speaks of it.',
  id_bad: 'Begin with a small letter or digit; then small letters, digits, - and _; 64 at most.',
  id_taken: 'There is one of this id already. Choose another.',
  must: 'needed',
  label_must: (label: string) => `${label} (needed)`,
  species_what: 'one that the program knows, or one of your own',
  unknown: 'not known',
  yes: 'yes',
  no: 'no',
  own_word: (word: string) => `${word} (not in the room)`,
  save: 'Save',
  saved: (name: string) => `Saved: ${name}`,
  not_saved: 'Nothing was changed. See what is marked below.',
  other_problems: 'The server says',
  changed: 'Somebody else has changed this record since you opened it. Yours is not saved, and is still here.',
  changed_show: 'Show it as it is now, without mine',
  no_such: 'There is no such record. It may have been taken out.',

  remove: 'Take it out',
  remove_ask: (name: string) => `Take ${name} out of the book for good?`,
  remove_why: 'Only what was added by mistake should go. What left the room or is no longer used gets its day instead.',
  removed: (name: string) => `Taken out: ${name}`,
  remove_no: 'It cannot be taken out',
  remove_no_why: 'The notebook or another record speaks of it, and what is written must still make sense.',
  remove_no_others: 'Change these first:',
  retire: (field: string) => (field === 'left' ? 'It left today' : 'Retired today'),
  retire_why: (field: string) =>
    field === 'left' ? 'Give it the day on which it left instead. Its history stays.' : 'Give it the day on which it was retired instead. Its history stays.',

  step: (now: number, all: number) => `Step ${now} of ${all}`,
  next: 'Next',
  before: 'Back',
  last_step: 'Look it over',
  last_what: 'This will be saved. All else can be filled in later.',
  all_fields: 'All fields',
  add_another: 'Add another',
  to_round: 'To the round',
  done_title: (name: string) => `${name} is in the book`,
  next_for_animal: 'What comes next: weigh it, and write its first entries. A new arrival belongs into quarantine.',
  next_for_enclosure: 'What comes next: who lives in it, and what heats and lights it.',
  next_for_device: 'Measure what it does before an animal depends on it.',
  quarantine: (days: string) => `Begin its quarantine today (${days} as the species' profile has it)`,
  quarantine_plain: 'Begin its quarantine today',
  quarantine_label: (name: string) => `${name}: quarantine began`,

  species_says: 'What the program holds for it',
  suggested: (value: string, key: string, range: string, status: string) => `${value} suggested, from ${key}: ${range} (${status}).`,
  suggested_from: (name: string) => `Suggestions are those for ${name}.`,
  for_species: 'For which species',
  for_species_what: 'Only to suggest sizes; nothing is saved of it.',
  trust: (status: string) => status,
  caution_heat:
    'Heat burns animals and houses. A heater runs on a thermostat, with the probe fixed where it says. Follow the maker’s label and local code; wiring is for a licensed electrician.',
  caution_lamp:
    'UVB harms eyes and skin, of people too. Keep the distance on the maker’s label, measure before an animal is under it, and do not look into the lamp.',
  caution_thermostat:
    'A set point is no promise: check with a thermometer of its own at the warm and the cool side before an animal moves in. Wiring is for a licensed electrician.',
};

export function profile_key(key: string): string {
  return kKeys[key] ?? key.replaceAll('_', ' ');
}

const kKeys: Record<string, string> = {
  basking_surface: 'basking surface', warm_side_air: 'warm side, air', cool_side: 'cool side', uvi_gradient: 'UV index, from shade to basking',
  min_enclosure: 'smallest enclosure', quarantine_length: 'quarantine',
};

export const form_hints: Record<string, string> = {
  mass: 'such as 350g or 12.5oz', length: 'such as 60cm or 24in', temperature: 'such as 28C or 82F',
  'temperature difference': 'such as 0.5C', power: 'such as 25W', volume: 'such as 2L or 1gal', percentage: 'such as 55%',
  area: 'such as 60cm2', duration: 'such as 7d or 30min', layers: 'from the inside out, such as cork 20mm + glass 4mm',
  uv_table: 'such as 20cm 4.1UVI + 30cm 2.2UVI',
};

export const import_words = {
  title: 'Read files into the book',
  intro: 'Room files (.toml) and notebooks (.jsonl, .csv). First you see what would happen; nothing is written before you say so, and then all of it or nothing.',
  ids: 'Records with a new id are added, those with a known one are replaced. Entries that the book has already are left as they are.',
  choose: 'Choose files',
  working: 'Reading…',
  would: 'This would happen',
  did: 'It is in the book',
  records: (n: number) => `The room then has ${counted(n, 'record', 'records')}.`,
  records_none: 'No room file among them: the records stay as they are.',
  entries: (added: number, before: number) =>
    `${counted(added, 'entry', 'entries')} new; ${counted(before, 'was', 'were')} there already.`,
  go: 'Read them in now',
  refused: (n: number) => `Refused: ${counted(n, 'line', 'lines')} cannot be read`,
  refused_why: 'Nothing was written. Mend these in the files and choose them again.',
  file: 'File',
  line: 'Line',
  field: 'Field',
  what: 'What is wrong',
  expected: 'Expected',
  found: 'Found',
  too_large: 'Together these are larger than 8 MiB. Use the command “warmside import” on the machine.',
  kinds: 'Only files that end in .toml, .jsonl or .csv.',
  most: 'At most 20 files at a time.',
};
