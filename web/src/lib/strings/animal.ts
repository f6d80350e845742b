// Words of the animals' list and of an animal's page.

import type { Fact, Food, OverrideFault, Quarantine, Sign, Verdict } from '../animal';
import type { Jot } from '../jots';
import { mass_words, signed_percent } from '../measures';
import type { Units } from '../units';
import type { Span } from '../weight_chart';
import { counted } from './common';

export const animals_words = {
  title: 'Animals',
  search: 'Find by name, species or place',
  found: (n: number) => counted(n, 'animal', 'animals'),
  none_found: 'No animal has these letters in its name, species or place.',
  nowhere: 'no enclosure said',
  gone: (n: number) => `No longer here (${n})`,
  empty_title: 'No animals yet',
  empty: 'An animal is added in the set-up, with its species and its enclosure. From then on its page shows its weight, its meals, what it wants and what was noticed.',
  empty_link: 'Add the first animal',
};

export const animal_words = {
  nothing_known: 'Nothing was judged yet: there are too few weighings and meals in the book. Weigh it, and write down what it eats.',
  verdicts: {
    unknown: 'Not known yet', well: 'Well, by all the book says', watch: 'Keep an eye on it', today: 'See to it today',
    weigh_again: 'Weigh it again', call_vet: 'Call a veterinarian', now: 'See to it now',
  } satisfies Record<Verdict, string>,
  verdict_care: 'The program reads the notebook. It sees no animal and makes no diagnosis: what you see goes before what stands here.',
  responses: {
    'change nothing': 'Change nothing', watch: 'Watch', 'weigh again': 'Weigh again', 'call the vet': 'Call a vet',
  } satisfies Record<Sign['response'], string>,
  reasons: 'Why',
  sign: (name: string, says: string) => `${name} ${says}`,
  for_vet: 'For the veterinarian',
  noticed: 'What was noticed',
  not_here: 'It is no longer in the room.',
  lives_in: 'Lives in',
  no_home: 'Nobody has said where it lives. Add a move, or set its enclosure in the set-up.',
  facts: { species: 'Species', sex: 'Sex', count: 'Heads', born: 'Born', arrived: 'Came', left: 'Left', marks: 'Known by', breeding: 'Breeding' },
  about: 'About it',
  work: 'Its work',
  work_none: 'Nothing falls due in the next seven days.',
  due: (due: string, today: string, day: string) => (due <= today ? 'due' : day),

  write: 'Write down',
  jots: { weigh: 'Weigh', fed: 'Fed', refused: 'Refused', shed: 'Shed', note: 'Note' } satisfies Record<Jot, string>,
  jot_titles: {
    weigh: (name: string) => `Weigh ${name}`, fed: (name: string) => `Feed ${name}`,
    refused: (name: string) => `Feed ${name}`, shed: (name: string) => `Shed of ${name}`,
    note: (name: string) => `Note about ${name}`,
  } satisfies Record<Jot, (name: string) => string>,
  note: 'What was seen or done',
  note_empty: 'Write a word or two.',
  last_weighing: (mass_g: number, date: string, units: Units) => `${mass_words(mass_g, units)} on ${date}`,
  waiting: 'Saved on this phone, not yet in the book',

  weight: 'Weight',
  verdict: (verdict: string) => verdict.charAt(0).toUpperCase() + verdict.slice(1),
  trend: (rate: number, low: number, high: number) => `${signed_percent(rate)} in 30 days (${signed_percent(low)} to ${signed_percent(high)})`,
  empty_mass: (mass: string, low: string, high: string) => `Now ${mass}, with an empty gut; between ${low} and ${high} nine times in ten.`,
  chart_name: (name: string, weighings: number, from: string, to: string, least: string, most: string) =>
    `Weight of ${name}: ${counted(weighings, 'weighing', 'weighings')} from ${from} to ${to}, between ${least} and ${most}.`,
  span: 'How far back',
  spans: { quarter: '3 months', year: 'A year', all: 'All' } satisfies Record<Span, string>,
  legend: { used: 'Weighed', unused: 'Weighed, not believed', middle: 'What the model says', band: 'Nine times in ten inside' },
  marks: 'Letters on the chart',
  mark_words: {
    r: 'refused', R: 'brought up', s: 'shed', i: 'ill', w: 'well again', m: 'moved', e: 'eggs',
    b: 'brumation began', B: 'brumation ended', q: 'quarantine began', Q: 'quarantine ended',
  } as Record<string, string>,
  readout: (date: string, weighed: string, band: string) => [date, weighed && `weighed ${weighed}`, band && `model ${band}`].filter(Boolean).join('; '),
  readout_none: 'Touch the chart to read a day.',
  group_weight: 'The weighings of a group are shown, but no band: animals that are not told apart have no course of their own.',
  no_weights: 'No weighings yet. With the first the chart begins; with four or five it shows a trend.',
  as_table: 'The same as a table',
  column: { date: 'Day', weighed: 'Weighed', model: 'Model', band: 'Between' },
  not_believed: 'not believed',
  unknown: 'not known',

  condition: 'Body condition',
  condition_says: (change: string, middle: string, count: number) =>
    `${change} against the middle of its ${counted(count, 'earlier size', 'earlier sizes')}, ${middle}.`,
  condition_none: 'Not known: measure its length, and weigh it within the same week. Then mass can be held against length.',
  condition_others: (change: string, count: number) => `${change} against ${counted(count, 'other', 'others')} of its species of like length.`,

  meals: 'Meals',
  sheds: 'Sheds',
  events: 'Lately',
  events_none: 'Nothing written yet.',
  meals_none: 'No meals written yet. Tap Fed when it has eaten.',
  sheds_none: 'No sheds written yet. Tap Shed when the skin is off.',
  struck: 'struck out',
  all_entries: 'All in the notebook',

  food: 'Food need',
  need: (low: string, middle: string, high: string) => `It needs about ${middle} kJ a day (${low} to ${high}).`,
  need_unknown: (why: string) => `Its need is not known: ${why}.`,
  eaten: (low: string, high: string | null) =>
    high === null ? `It ate at least ${low} kJ a day in four weeks; how much at most is not known.` : `It ate ${low} to ${high} kJ a day in four weeks.`,
  food_verdicts: {
    'surely enough': 'surely enough', unsure: 'unsure, the ranges overlap', 'surely too little': 'surely too little',
    'surely too much': 'surely too much', unknown: 'not known',
  } satisfies Record<NonNullable<Food['energy_verdict']>, string>,
  energy: (verdict: string) => `Energy: ${verdict}.`,
  stage: (stage: string) => `Reckoned for: ${stage}.`,
  warmth: (warmth: string) => `Its warmth: ${warmth}.`,
  corrected: 'Corrected by its own meals and mass.',
  nutrients: 'Nutrients of four weeks',
  nutrient_columns: { nutrient: 'Nutrient', amount: 'In its food', wanted: 'Wanted', verdict: 'Verdict' },
  at_least: (low: string) => `${low} at least`,
  nothing_asked: 'nothing asked',
  wanted: (low: string, limit: string | null) => (limit === null ? `${low} or more` : `${low} to ${limit}`),
  prey: (names: string[]) => `Prey of a fitting size: ${names.join(', ')}.`,
  greens: (names: string[]) => `Greens that go well together: ${names.join(', ')}.`,
  no_food: 'Food is not reckoned for an animal that is not here.',

  care: 'What it wants',
  care_intro: 'Each value with how far it can be trusted. Your own value goes before the profile’s.',
  trust: 'Trust',
  statuses: {
    keeper: 'your own value', verified: 'checked at the source', 'verified secondary': 'checked, second hand',
    derived: 'reckoned from others', proxy: 'from a related animal', 'from memory': 'from memory, unchecked',
    'common practice': 'common practice',
  } satisfies Record<Fact['status'], string>,
  key: (key: string) => key.replaceAll('_', ' ').replace('uvi', 'UV index').replace(/^ct /, 'critical '),
  trusted: (status: Fact['status'], source: string): string =>
    source.startsWith('common practice') ? animal_words.statuses[status] : `${animal_words.statuses[status]}; source: ${source}`,
  source: 'Source',
  set_own: 'Set own value',
  change_own: 'Change own value',

  quarantine: 'Quarantine',
  quarantine_progress: (done: number, wanted: number) => `${done} of ${wanted} days`,
  requirement: { met: 'Met', open: 'Open', failed: 'Failed' } satisfies Record<Quarantine['requirements'][number]['standing'], string>,
  counted_on: (have: number, wanted: number, days: string[]) => `${have} of ${wanted}${days.length > 0 ? `: ${days.join(', ')}` : ''}`,
  restarts: 'The days began again',
  sign_off: 'All is met. Ending it is yours: write “quarantine ended” in the notebook.',
};

export const override_words = {
  title: (key: string) => `Own value: ${animal_words.key(key)}`,
  now: (value: string, status: string) => `Now: ${value} (${status}).`,
  species_wide: 'It stands for every animal of the species. What you save here holds for this animal alone and goes before it.',
  low: 'From', high: 'To', number: 'Value', words: 'Value, as in the profile',
  reason: 'Why',
  reason_hint: 'Who reads it next year wants to know: a veterinarian’s word, your own record, a book.',
  care: 'Alarms, tasks and verdicts follow this value from now on. Where it touches heat, UV or quarantine, ask a veterinarian or a good source first.',
  save: 'Save',
  remove: 'Take my value out',
  saved: (key: string) => `Saved: ${animal_words.key(key)}`,
  removed: (key: string) => `Taken out: ${animal_words.key(key)}`,
  needs_server: 'An own value goes straight to the book and needs the server. Nothing was changed.',
  faults: {
    number: 'Type a number, such as 24 or 24,5.', order: 'The first number must not be above the second.',
    words: 'Type a value.', reason: 'Say why in a few words.',
  } satisfies Record<OverrideFault, string>,
};
