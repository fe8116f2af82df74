/** A figure's key in words, from the key alone: a record knows no more of what it was made from. */
import { nameFromId } from '../session/name-from-id';
import { instantText } from '../time/session-time-text';

/** A value and the time of it differ in nothing but their unit. */
const TIME_OF = /\b(peak|worst)_s$/;
const UNIT_ENDING = /_(s|m|mps|deg|dps|ppm)$/;

/** The two parts of a key: whose figure it is, and which, in words; null for what is no key. */
export function keyParts(key: string): Readonly<{ owner: string; quantity: string }> | null {
  const match = /^(\w+(?:\[.+?\])?)\.(.+)$/.exec(key);
  if (match === null) return null;
  const [, owner = '', rest = ''] = match;
  const timed = rest.replace(TIME_OF, 'time of the $1_s');
  const quantity = timed.replace(UNIT_ENDING, '').replaceAll('.', ', ').replaceAll('_', ' ');
  return { owner, quantity };
}

const OWNERS: Readonly<Record<string, string>> = {
  steps: 'Step',
  rules: 'Rule',
  sources: 'Source',
  contact: 'Contact',
  capture: 'Capture',
  counts: 'Number of',
  approach: 'Approach',
  session: 'Session',
  stretch: 'Stretch',
  profile: 'Profile',
  sequence: 'Sequence',
  second_range: 'Second range',
  turning_axes: 'Turning axes',
  comparison: 'Comparison',
  handling: 'Handling',
  zones: 'Zone',
};

/** Owners that are told by their place in a list. */
const COUNTED: Readonly<Record<string, string>> = {
  phases: 'Phase',
  commanded: 'Commanded phase',
  exceedances: 'Exceedance',
  data_quality: 'Data fault',
  events: 'Event',
  callouts: 'Callout',
  solution_steps: 'Solution step',
  phase_corrections: 'Correction',
};

/** `Rule Corridor` for rules and corridor, `Phase 3` for phases and 2. */
export function ownerWords(kind: string, name: string): string {
  const counted = COUNTED[kind];
  if (counted !== undefined && name !== '') return `${counted} ${Number(name) + 1}`;
  const named = ['steps', 'rules', 'zones'].includes(kind) ? nameFromId(name) : name;
  return `${OWNERS[kind] ?? kind}${name === '' ? '' : ` ${named}`}`;
}

const PAIRS: Readonly<Record<string, string>> = {
  'pairs[0].': 'against the median, ',
  'pairs[1].': 'against the opened run, ',
};

/** `Comparison, closing rate: share outside` for a key of a comparison; null for another key. */
function comparedWords(key: string): string | null {
  const match = /^comparison\.(?:scores|quantities|axes|vehicle|measures)\[(.+?)\]\.(.+)$/.exec(
    key,
  );
  if (match === null) return null;
  const [, name = '', rest = ''] = match;
  const pair = Object.keys(PAIRS).find((start) => rest.startsWith(start)) ?? '';
  const plain = rest.slice(pair.length).replace(UNIT_ENDING, '').replaceAll('_', ' ');
  const of = name.replace(UNIT_ENDING, '').replaceAll(/[._]/g, ' ');
  return `Comparison, ${of}: ${PAIRS[pair] ?? ''}${plain}`;
}

/** `State at poll.csv:12, Corridor: margin` for a key of what was known at an instant; null for another. */
function polledWords(key: string): string | null {
  const match = /^polls\[(.+?)\]\.(?:(rules|sources)\[(.+)\]\.)?(\w+)$/.exec(key);
  if (match === null) return null;
  const [, at = '', kind, name = '', quantity = ''] = match;
  const of = kind === undefined ? '' : `, ${kind === 'rules' ? nameFromId(name) : name}`;
  const when = Number.isFinite(Number(at)) ? instantText(Number(at)) : at;
  return `State at ${when}${of}: ${quantity.replace(UNIT_ENDING, '').replaceAll('_', ' ')}`;
}

/** `Contact: closing rate` for contact.closing_rate_mps. */
export function keyWords(key: string): string {
  const own = comparedWords(key) ?? polledWords(key);
  if (own !== null) return own;
  const parts = keyParts(key);
  if (parts === null) return key;
  const [, kind = parts.owner, name = ''] = /^(\w+)(?:\[(.+)\])?$/.exec(parts.owner) ?? [];
  return `${ownerWords(kind, name)}: ${parts.quantity}`;
}
