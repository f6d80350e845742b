// Words of an enclosure's page.

import type { Computed, kEquipmentKinds, Uv } from '../enclosure';
import { counted } from './common';

export const enclosure_words = {
  lives_here: 'Lives here',
  nobody: 'Nobody lives here now.',
  noticed: 'What was noticed',
  nothing_noticed: 'Nothing was noticed here.',
  about: 'About it',
  size: (length: string, width: string, height: string) => `${length} long, ${width} deep, ${height} high`,

  places: 'Against what they want',
  places_intro: 'Computed for a settled day from what the book says, not measured.',
  wanted: (range: string) => `wanted ${range}`,
  standings: { inside: 'Inside', edging: 'Edging', outside: 'Outside' } satisfies Record<Computed['places'][number]['standing'], string>,
  surely: 'surely',
  perhaps: 'perhaps',
  not_computed: (missing: string) => `Not computed. What the book would have to say first: ${missing}`,
  not_computed_link: 'Complete it in the set-up',
  no_wants: 'Nobody lives here, or no range is known of who does.',

  heaters: 'What heats it',
  heater: (name: string, duty: number, watts: string, kwh: string) => `${name}: on ${Math.round(duty * 100)} % of the day, ${watts} W on the mean, ${kwh} kWh a month`,
  flat_out: 'never rests in the afternoon: too weak, or the probe sits wrong',
  energy: (kwh: string, cost: string | null) => `Together ${kwh} kWh a month${cost === null ? '' : `, ${cost} in your currency`}.`,
  assumed: (n: number) => `${counted(n, 'thing was', 'things were')} assumed`,
  balance: (error: number) => `Heat in against heat out: ${error < 0.001 ? 'less than 0.1' : (error * 100).toPrecision(1)} % apart.`,

  maps: 'Maps',
  heat: 'Heat',
  uv: 'UV index',
  which: 'Which map',
  plans: { heat_plan: 'Heat, from above', heat_section: 'Heat, from the front', uv_plan: 'UV, from above', uv_section: 'UV, from the front' },
  no_maps: (why: string) => `No maps: ${why}`,
  map_name: (title: string, low: string, high: string) => `${title}: from ${low} to ${high}.`,
  map_band: (name: string, share: number) => `${Math.round(share * 100)} % of the area lies in the ${name} range.`,
  wanted_lines: (name: string, range: string) => `Dashed lines: the edges of what is ${name}, ${range}`,
  point: (from_left: string, from_near: string, side: boolean) => `at ${from_left} from the left, ${from_near} from the ${side ? 'floor' : 'front'}`,
  point_hint: 'Touch the map to read a place, or move the sliders.',
  from_left: 'From the left',
  from_near: (side: boolean) => (side ? 'From the floor' : 'From the front'),
  mark_list: 'Numbers on the map',
  step: (low: string, high: string) => `${low} to ${high}`,
  and_more: (from: string) => `from ${from}`,
  and_less: (to: string) => `up to ${to}`,
  as_table: 'The map as a table',
  from_to: 'Where',
  table_from: { plan: 'The first row is the back.', section: 'The first row is the lid.' },
  column: (i: number, n: number) => (i === 0 ? 'Left' : i === n - 1 ? 'Right' : n === 3 ? 'Middle' : `${Math.round(((i + 0.5) / n) * 100)} %`),
  row: (j: number, n: number, side: boolean) => (j === 0 ? (side ? 'Lid' : 'Back') : j === n - 1 ? (side ? 'Floor' : 'Front') : 'Middle'),
  nothing_there: 'nothing there',
  computed_care: 'Computed, not measured. Measure at the basking place before you trust it, and keep the distances and the power that the makers give.',

  day: 'A settled day',
  day_row: (low: string, low_hour: number, high: string, high_hour: number) =>
    `${low} at ${two(low_hour)}:00, ${high} at ${two(high_hour)}:00`,
  day_table: 'The day as a table',
  hour: 'Hour',
  hour_of: (hour: number) => `${two(hour)}:00`,

  readings: 'Readings',
  readings_none: 'No readings written yet. Write one from the round or the notebook; with them the computed can be held against the measured.',
  probes: 'Probes and meters',
  probe_at: (place: string) => (place ? `at ${place}` : 'place not said'),
  all_readings: 'All readings in the notebook',

  equipment: 'Equipment',
  equipment_none: 'Nothing is written down for this enclosure. Add its heaters, lamps and thermostats in the set-up, and the heat can be computed.',
  kinds: { thermostat: 'Thermostats', heater: 'Heaters', lamp: 'Lamps', instrument: 'Instruments', tool: 'Tools' } satisfies Record<(typeof kEquipmentKinds)[number], string>,
  electric_care: 'Cables, loads and sockets follow the label and the local code; ask a licensed electrician. Unplug before you open anything.',

  uv_lamps: 'UV lamps',
  uv_none: 'No UVB lamp is written down here.',
  uv_basking: (uvi: string, low: string, high: string, at_least: boolean) =>
    `At the basking place UV index ${uvi} (${low} to ${high})${at_least ? ', or more: of one lamp nothing is known' : ''}.`,
  uv_unknown: 'At the basking place the UV index is not known. Read it with a UV index meter.',
  uv_lamp: (uvi: string | null, low: string, high: string) => (uvi === null ? 'not known' : `UV index ${uvi} (${low} to ${high}) by itself`),
  uv_distance: (distance: string) => `${distance} from the basking place`,
  uv_between: { nothing: 'nothing in between', mesh: 'through mesh', closed: 'behind glass or a closed lid: no UVB comes through', unknown: 'what lies in between is not known' } satisfies Record<Uv['lamps'][number]['between'], string>,
  uv_rests: (on: string) => `Rests on ${on}.`,
  uv_share: (share: number, low: number, high: number) => `Gives ${Math.round(share * 100)} % of what it gave at first (${Math.round(low * 100)} to ${Math.round(high * 100)} %).`,
  uv_replace: (due: string, early: string, late: string) => `Replace about ${due}${early || late ? ` (${[early && `as soon as ${early}`, late && `as late as ${late}`].filter(Boolean).join(', ')})` : ''}.`,
  uv_why: (why: string) => `Why: ${why}.`,
  uv_replace_unknown: 'When to replace it is not known.',
  uv_replace_none: 'No end in sight by its readings.',
  uv_wants: (name: string, zone: string | null) => `${name}: ${zone === null ? 'zone not known' : `zone ${zone}`}`,
  uv_strongest: (low: string, high: string) => `wants ${low} to ${high} at the basking place`,
  uv_average: (low: string, high: string) => `${low} to ${high} over its day`,
  uv_not_judged: 'Not judged',
  uv_care: 'Never look into a UV lamp. Keep the distance its maker gives, and give every animal shade.',

  work: 'Work here',
  work_none: 'Nothing falls due in the next seven days.',
  lately: 'Lately',
  lately_none: 'Nothing written yet.',
  tools: 'Sharing tools',
  tools_mark: (mark: string, marked: boolean) => (marked ? `Marked ${mark}.` : `Proposed mark: ${mark}.`),
  tools_none: 'Share nothing: this enclosure keeps its own tools.',
  tools_with: (names: string) => `May share with ${names}, disinfected in between.`,
};

function two(hour: number): string {
  return String(hour).padStart(2, '0');
}
