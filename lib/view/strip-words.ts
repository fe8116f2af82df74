/** Words for columns, strips and quantities, and what has to be known of them. */
import { derivedColumnWords } from '../core/debrief/column-label';
import { limitColumnWords } from '../core/session/limit-columns';
import type { TimeWindow } from './charts/time-window';

/** Vectors by the stem of their axes. */
export const GROUP_LABELS: ReadonlyMap<string, string> = new Map<string, string>(
  Object.entries({
    position: 'Position',
    velocity: 'Velocity',
    attitude_error: 'Attitude error',
    attitude: 'Attitude',
    target_attitude: 'Attitude of the target',
    relative_attitude: 'Attitude against the target',
    body_rate: 'Body rate',
    hand_controller: 'Hand controller',
    jet_on_time: 'Jet on-time',
  }),
);

/** The projection of the velocity on the line of sight, which swings aside where the range is small. */
const RATE_OF_RANGE =
  'Rate of the range: with an offset it falls below that along the axis in the last metres.';

/**
 * What has to be known of a column about contact.
 *
 * @param key of a column of the sample store
 * @param stretch session time, s
 * @returns a sentence where the stretch reaches into the last minute before contact; null otherwise
 */
export function nearContactNote(
  key: string,
  stretch: TimeWindow,
  contactS: number | null,
): string | null {
  const isNear =
    contactS !== null && stretch.toS > contactS - LAST_S && stretch.fromS < contactS + LAST_S;
  return key === 'closing_rate' && isNear ? RATE_OF_RANGE : null;
}

/** At a contact's usual rate a minute is the last few metres; our own choice. */
const LAST_S = 60;

/**
 * Words for a column, a strip or a quantity: `closing_rate` is Closing rate, `attitude_error@nav.csv` is
 * Attitude error (nav.csv), `nav.csv:roll_err` is roll_err (nav.csv). A name of a source stays.
 */
export function quantityLabel(name: string): string {
  const words =
    limitColumnWords(name) ?? derivedColumnWords(name) ?? GROUP_LABELS.get(name) ?? null;
  if (words !== null) return words;
  const at = /^(?<what>[^@:]+)@(?<source>.+)$/.exec(name)?.groups;
  const of = /^(?<source>.+):(?<what>[^:]+)$/.exec(name)?.groups;
  const { what, source } = at ?? of ?? {};
  return what === undefined || source === undefined ? name : `${quantityLabel(what)} (${source})`;
}

/** `attitude_error.roll` is Attitude error, roll; a quantity without words of its own stays. */
export function quantityWords(as: string): string {
  const dot = as.lastIndexOf('.');
  const group = dot <= 0 ? undefined : GROUP_LABELS.get(as.slice(0, dot));
  return group === undefined ? quantityLabel(as) : `${group}, ${as.slice(dot + 1)}`;
}
