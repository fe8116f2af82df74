import { limitColumnWords } from '../session/limit-columns';

/** What people call a derived column, from its name: the sample store keeps names and units only. */
const WORDS: ReadonlyMap<string, string> = new Map<string, string>(
  Object.entries({
    range: 'Range',
    closing_rate: 'Closing rate',
    axial_distance: 'Axial distance',
    axial_closing_rate: 'Axial closing rate',
    lateral_offset: 'Lateral offset',
    offset_y: 'Offset along y',
    offset_z: 'Offset along z',
    planned_closing_rate: 'Planned closing rate',
  }),
);

/** The words for a derived column, `null` for any other name. */
export function derivedColumnWords(name: string): string | null {
  return WORDS.get(name) ?? null;
}

/** `Closing rate` for closing_rate, `Limit: Corridor` for limit.corridor, else the name in words. */
export function columnLabel(name: string): string {
  const ofRule = limitColumnWords(name);
  if (ofRule !== null) return ofRule;
  const words = derivedColumnWords(name) ?? name.replaceAll('_', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Names of vectors as a source may give them, in words. */
const VECTOR_WORDS: ReadonlyMap<string, string> = new Map<string, string>(
  Object.entries({
    position: 'Position',
    velocity: 'Velocity',
    attitude_error: 'Attitude error',
    body_rate: 'Body rate',
    hand_controller: 'Hand controller',
    jet_on_time: 'Jet on-time',
    propellant_mass: 'Propellant mass',
  }),
);

/**
 * A channel as a document names it: `closing_rate` is Closing rate, `attitude_error@nav.csv` is Attitude
 * error (nav.csv), `nav.csv:roll_err` is roll_err (nav.csv). A column's own name stays as it is written.
 */
export function channelWords(name: string): string {
  const ofRule = limitColumnWords(name);
  if (ofRule !== null) return ofRule;
  const words = derivedColumnWords(name) ?? VECTOR_WORDS.get(name) ?? null;
  if (words !== null) return words;
  const at = /^([^@:]+)@(.+)$/.exec(name);
  if (at !== null) return `${channelWords(at[1] ?? '')} (${at[2] ?? ''})`;
  const of = /^(.+):([^:]+)$/.exec(name);
  if (of !== null) return `${of[2] ?? ''} (${of[1] ?? ''})`;
  const [, vector = '', axis = ''] = /^(.+)\.([a-z]+)$/.exec(name) ?? [];
  const group = VECTOR_WORDS.get(vector);
  return group === undefined ? name : `${group}, ${axis}`;
}
