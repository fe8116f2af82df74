/** Words and units of a form's fields, from the keys of the files. */
import { nameFromId } from '../../core/session/name-from-id';

const UNITS: readonly (readonly [suffix: string, unit: string])[] = [
  ['_mps2', 'm/s²'],
  ['_mps', 'm/s'],
  ['_dps', 'deg/s'],
  ['_deg', 'deg'],
  ['_ppm', 'ppm'],
  ['_kg', 'kg'],
  ['_m', 'm'],
  ['_s', 's'],
];

/** Where a key alone would not be read as what it is. */
const NAMES: Readonly<Record<string, string>> = {
  within: 'Where it applies',
  when: 'Where and when it applies',
  limit: 'Upper bound',
  at_least: 'Lower bound',
  persists_s: 'Counts when it lasts',
  range_m: 'Range',
  axial_m: 'Axial distance',
  points_m_mps: 'Points',
  is: 'States',
  rate_of: 'Rate of',
  vector_sum: 'Parts of the sum',
  events: 'What is asked of the events',
  between: 'Between',
  to_m: 'Ends at range',
  hold_m: 'Range of the hold',
  within_m: 'Within',
  semi_axes_m: 'Semi-axes',
};

export type FieldWords = Readonly<{ label: string; unit: string }>;

/** `hold_rate_mps` is `Hold rate` in m/s. */
export function fieldWords(key: string | number): FieldWords {
  if (typeof key === 'number') return { label: `${key + 1}`, unit: '' };
  const [suffix = '', unit = ''] = UNITS.find(([ending]) => key.endsWith(ending)) ?? [];
  const name = NAMES[key] ?? nameFromId(key.slice(0, key.length - suffix.length));
  return { label: name, unit: key === 'points_m_mps' ? '' : unit };
}

/** Heads of the two columns of a profile. */
export function profileHeads(key: string | number): readonly [string, string] {
  const value = String(key).endsWith('_mps') ? 'rate, m/s' : 'value';
  return ['range, m', value];
}

/** What the schema says of a field; its unit is left out where the name beside it has it. */
export function hintWords(described: string, unit: string): string {
  const words = described.replaceAll('m/s2', 'm/s²');
  if (unit === '') return words;
  const said = `, ${unit}`;
  const at = words.indexOf(`${said}.`);
  return at < 0 ? words : words.slice(0, at) + words.slice(at + said.length);
}
