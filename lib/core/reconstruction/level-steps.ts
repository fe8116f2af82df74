/** Positions without a measured velocity, brought onto one solution across its steps. */
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MovedStep } from '../motion/motion-estimate';
import { stretchesOf } from '../motion/row-spans';
import { findBareSteps, type Mobility } from '../navigation/bare-steps';
import { positionJump, type StepPlace } from '../navigation/solution-step';
import { feedStretches, type HandOver, handOvers } from '../navigation/source-states';
import { takeSamples } from '../series/samples';
import type { CheckedChannel, CheckedSource } from './data-quality';

/** Stated hand-overs of a source, in time order. */
function oversOf({ source, tS, channels, longestStepS }: CheckedSource): readonly HandOver[] {
  const { navigation } = source.declared;
  if (navigation === undefined) return [];
  const selector = channels.find(({ channel }) =>
    [channel.name, channel.as].includes(navigation.selector),
  );
  if (selector === undefined) return [];
  return handOvers(feedStretches(tS, selector.channel.values, navigation.states, longestStepS));
}

const POSITIONS: ReadonlyMap<string, string> = new Map([
  ['range', 'range_rate'],
  ...['x', 'y', 'z'].map((axis): [string, string] => [`position.${axis}`, `velocity.${axis}`]),
]);

function axisOf(as: string): MovedStep['axis'] {
  return as === 'position.x'
    ? 'x'
    : as === 'position.y'
      ? 'y'
      : as === 'position.z'
        ? 'z'
        : 'range';
}

/** A jump this many times its own 95 % half-width is one; a change of rate there makes less. */
const SURE = 2;
/** Samples this far round a step tell how neighbours err together, s. */
const ROUND_S = 300;
/** A step found this near to a stated hand-over is that hand-over's, s. */
const SAME_S = 2;

/** Places of steps that nobody stated, in time order. */
function silentPlaces(
  { tS, longestStepS }: CheckedSource,
  values: Float64Array,
  { rejected }: CheckedChannel,
  mobility: Mobility,
): readonly StepPlace[] {
  const samples = takeSamples(tS, values, rejected);
  const gapS = Math.max(longestStepS, 5 * samples.stepS * 1.001);
  return findBareSteps(samples, stretchesOf(samples.tS, gapS), mobility);
}

/** Moves the samples before each place onto those after it, in place; the steps moved, in time order. */
function levelAt(
  tS: Float64Array,
  values: Float64Array,
  { channel, rejected }: CheckedChannel,
  places: readonly StepPlace[],
): readonly MovedStep[] {
  const moved: MovedStep[] = [];
  // The last one first: what lies before an earlier one is moved by both.
  for (const place of [...places].reverse()) {
    const from = lowerBound(tS, place.beforeS - ROUND_S);
    const to = lowerBound(tS, place.atS + ROUND_S);
    const samples = takeSamples(
      tS.subarray(from, to),
      values.subarray(from, to),
      rejected === null ? null : rejected.subarray(from, to),
    );
    const jump = positionJump(samples, null, place);
    if (jump === null || Math.abs(jump.value) <= SURE * jump.half) continue;
    const first = lowerBound(tS, place.atS);
    for (let row = 0; row < first; row++) values[row] = (values[row] ?? Number.NaN) + jump.value;
    moved.unshift({
      channel: channel.name,
      axis: axisOf(channel.as),
      beforeS: place.beforeS,
      afterS: place.atS,
      sizeM: jump.value,
      sizeSdM: jump.half / NORMAL_95,
    });
  }
  return moved;
}

function levelOne(
  source: CheckedSource,
  each: CheckedChannel,
  overs: readonly HandOver[],
  mobility: Mobility,
): Readonly<{ values: Float64Array; moved: readonly MovedStep[] }> {
  const { tS } = source;
  const values = each.channel.values.slice();
  const stated = levelAt(tS, values, each, overs);
  const isStated = ({ beforeS, atS }: StepPlace): boolean =>
    stated.some((step) => atS >= step.beforeS - SAME_S && beforeS <= step.afterS + SAME_S);
  const silent = silentPlaces(source, values, each, mobility).filter((place) => !isStated(place));
  const moved = [...stated, ...levelAt(tS, values, each, silent)];
  return { values, moved: moved.sort((a, b) => a.afterS - b.afterS) };
}

export type Levelled = Readonly<{
  /** Values to use in place of the file's, by quantity. */
  values: ReadonlyMap<string, Float64Array>;
  moved: readonly MovedStep[];
}>;

/**
 * Where only positions are measured, a rate is formed from them, and must not run across a step of
 * the solution. At each stated hand-over, and wherever the samples show a step that no motion makes, the
 * jump is estimated and the samples before it are moved onto those after it. With a measured velocity
 * nothing is done here: steps are then found against it.
 */
export function levelSteps(source: CheckedSource, mobility: Mobility): Levelled {
  const overs = oversOf(source);
  const values = new Map<string, Float64Array>();
  const moved: MovedStep[] = [];
  const measured = new Set(source.channels.map(({ channel }) => channel.as));
  // Three components are the motion; a range beside them has steps of its own.
  const byAxes = ['x', 'y', 'z'].every((axis) => measured.has(`position.${axis}`));
  for (const each of source.channels) {
    const { as } = each.channel;
    const rate = POSITIONS.get(as);
    if (rate === undefined || measured.has(rate) || values.has(as)) continue;
    if (byAxes === (as === 'range')) continue;
    const levelled = levelOne(source, each, overs, mobility);
    if (levelled.moved.length === 0) continue;
    values.set(as, levelled.values);
    moved.push(...levelled.moved);
  }
  return { values, moved };
}
