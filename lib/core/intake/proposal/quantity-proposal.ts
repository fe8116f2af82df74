/** Which quantity a column may be, from its name; a proposal for a person to look at. */
import { CHANNEL_QUANTITIES } from '../../units/quantity';
import { findUnit, usualSpelling } from '../../units/unit';
import { columnWords } from './column-words';

/**
 * `isUnitSaid` false: neither name nor unit row gives one; the usual one is proposed and has to be
 * looked at. `sign` is -1 where the name says the opposite of the quantity (`closing speed` is range
 * rate with the other sign).
 */
export type QuantityProposal = Readonly<{
  as: string;
  unit: string;
  isUnitSaid: boolean;
  sign: 1 | -1;
  /** Why, for the person who decides. */
  reason: string;
}>;

type Has = (...words: readonly string[]) => boolean;

const ANGLES: ReadonlyMap<string, string> = new Map([
  ['roll', 'roll'],
  ['pitch', 'pitch'],
  ['yaw', 'yaw'],
]);
/** Letters for the three body rates; common practice, no source. */
const RATE_LETTERS: ReadonlyMap<string, string> = new Map([
  ['p', 'roll'],
  ['q', 'pitch'],
  ['r', 'yaw'],
]);
/** Units in which files write a quantity when they do not say; common practice, no source. */
const USUAL_UNITS: ReadonlyMap<string, string> = new Map([
  ['rad', 'deg'],
  ['rad/s', 'deg/s'],
]);
const RATE = ['rate', 'rates', 'dot', 'speed', 'velocity', 'vel'] as const;

/** The axis that one of the words is or ends with: `x`, `vx`, `posx`. */
function axisOf(words: readonly string[], stems: readonly string[]): string | null {
  for (const word of words) {
    const axis = word.at(-1) ?? '';
    if (!'xyz'.includes(axis) || axis === '') continue;
    const stem = word.slice(0, -1);
    if (stem === '' || stems.includes(stem)) return axis;
  }
  return null;
}

function angleOf(words: readonly string[], letters: ReadonlyMap<string, string>): string | null {
  for (const word of words) {
    const angle = ANGLES.get(word) ?? letters.get(word);
    if (angle !== undefined) return angle;
  }
  return null;
}

function rangeQuantity(
  has: Has,
  unit: string | null,
): Readonly<{ as: string; sign: 1 | -1 }> | null {
  const isSpeed = has(...RATE) || findUnit(unit ?? '')?.siUnit === 'm/s';
  const closes = has('closing', 'closure', 'approach') && isSpeed;
  if (closes) return { as: 'range_rate', sign: -1 };
  if (has('doppler') && has('instantaneous')) return { as: 'range_rate', sign: 1 };
  if (has('rdot', 'rr', 'rrate', 'rangerate', 'rngrate')) return { as: 'range_rate', sign: 1 };
  if (!has('range', 'rng', 'distance', 'dist')) return null;
  return { as: has(...RATE) ? 'range_rate' : 'range', sign: 1 };
}

function rotationQuantity(words: readonly string[], has: Has, unit: string | null): string | null {
  const isTurning = unit !== null && findUnit(unit)?.siUnit === 'rad/s';
  const isRate = isTurning || has('rate', 'rates', 'dot', 'omega', 'gyro', 'angvel', 'w');
  const angle = angleOf(words, isRate ? RATE_LETTERS : new Map());
  const turned = isRate ? axisOf(words, ['w', 'omega', 'gyro']) : null;
  const byAxis = turned === null ? null : ({ x: 'roll', y: 'pitch', z: 'yaw' }[turned] ?? null);
  const isTurned = isTurning || has('omega', 'gyro', 'angvel', 'w');
  const about = angle ?? (isTurned ? byAxis : null);
  if (about === null) return null;
  if (isRate) return `body_rate.${about}`;
  return has('err', 'error', 'att', 'attitude', 'misalignment', 'dev')
    ? `attitude_error.${about}`
    : null;
}

function controlQuantity(words: readonly string[], has: Has): string | null {
  if (has('hc', 'thc', 'rhc', 'hand', 'controller', 'stick')) {
    const angle = angleOf(words, new Map()) ?? axisOf(words, []);
    return angle === null ? null : `hand_controller.${angle}`;
  }
  if (has('jet', 'jets', 'thruster', 'thrusters') && has('on', 'time', 'ontime')) {
    const axis = axisOf(words, []);
    return axis === null ? null : `jet_on_time.${axis}`;
  }
  const isMass = has('propellant', 'prop', 'fuel') && !has('pressure', 'press', 'temp', 'flow');
  return isMass ? 'propellant_mass' : null;
}

function translationQuantity(words: readonly string[], has: Has): string | null {
  const speed = axisOf(words, ['v', 'vel', 'd']) ?? null;
  const isSpeed =
    has('vel', 'velocity', 'v', 'rate', 'xdot', 'ydot', 'zdot', 'dot') ||
    words.some((word) => /^(?:v|vel)[xyz]$/.test(word));
  if (isSpeed) {
    const dotted = words.find((word) => /^[xyz]dot$/.test(word))?.[0] ?? null;
    const axis = speed ?? dotted;
    return axis === null ? null : `velocity.${axis}`;
  }
  if (has('acc', 'accel', 'acceleration', 'force', 'torque', 'temp', 'cmd', 'command', 'sigma'))
    return null;
  const axis = axisOf(words, ['p', 'pos', 'position', 'r', 'rel', 'd']);
  return axis === null ? null : `position.${axis}`;
}

/**
 * Proposes the quantity of a column.
 *
 * @param name the column's name
 * @param unitRow the unit that a row under the header gives it, null without one
 * @returns quantity, unit and why; null where the name says nothing that is known, or its unit is
 *   that of another kind of quantity
 *
 * Source: the words are common practice, no source; DOPPLER_INSTANTANEOUS is a range rate in
 * CCSDS 503.0-B-2, from memory.
 */
export function proposeQuantity(name: string, unitRow: string | null): QuantityProposal | null {
  const { words, unit: inName, unread } = columnWords(name);
  const has: Has = (...some) => words.some((word) => some.includes(word));
  if (has('sigma', 'std', 'variance', 'cov', 'flag', 'status', 'valid', 'quality')) return null;
  const said = unitRow ?? inName;
  const range = rangeQuantity(has, said);
  const as =
    range?.as ??
    controlQuantity(words, has) ??
    rotationQuantity(words, has, said) ??
    translationQuantity(words, has);
  if (as === null) return null;
  const needed = CHANNEL_QUANTITIES.get(as) ?? '1';
  const unit = said === null ? (USUAL_UNITS.get(needed) ?? needed) : usualSpelling(said);
  if (findUnit(unit)?.siUnit !== needed) return null;
  const isUnitSaid = said !== null || needed === '1';
  const lack = unread === null ? 'no unit is said' : `"${unread}" is no unit that is known`;
  const told = isUnitSaid ? `its unit is ${unit}` : `${lack}, ${unit} is proposed`;
  const turned = range?.sign === -1 ? ', with the other sign: it is positive while closing' : '';
  return {
    as,
    unit,
    isUnitSaid,
    sign: range?.sign ?? 1,
    reason: `from its name${turned}; ${told}`,
  };
}
