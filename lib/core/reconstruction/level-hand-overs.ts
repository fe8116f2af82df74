/** Positions without a measured velocity, brought onto one solution across stated hand-overs. */
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MovedStep } from '../motion/motion-estimate';
import { positionJump } from '../navigation/solution-step';
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
/** Samples this far round a hand-over tell how neighbours err together, s. */
const ROUND_S = 300;

function levelOne(
  source: CheckedSource,
  { channel, rejected }: CheckedChannel,
  overs: readonly HandOver[],
): Readonly<{ values: Float64Array; moved: readonly MovedStep[] }> {
  const { tS } = source;
  const values = channel.values.slice();
  const moved: MovedStep[] = [];
  // The last one first: what lies before an earlier one is moved by both.
  for (const over of [...overs].reverse()) {
    const from = lowerBound(tS, over.beforeS - ROUND_S);
    const to = lowerBound(tS, over.atS + ROUND_S);
    const samples = takeSamples(
      tS.subarray(from, to),
      values.subarray(from, to),
      rejected === null ? null : rejected.subarray(from, to),
    );
    const jump = positionJump(samples, null, over);
    if (jump === null || Math.abs(jump.value) <= SURE * jump.half) continue;
    const first = lowerBound(tS, over.atS);
    for (let row = 0; row < first; row++) values[row] = (values[row] ?? Number.NaN) + jump.value;
    const { name } = channel;
    moved.unshift({
      channel: name,
      axis: axisOf(channel.as),
      beforeS: over.beforeS,
      afterS: over.atS,
      sizeM: jump.value,
      sizeSdM: jump.half / NORMAL_95,
    });
  }
  return { values, moved };
}

export type Levelled = Readonly<{
  /** Values to use in place of the file's, by quantity. */
  values: ReadonlyMap<string, Float64Array>;
  moved: readonly MovedStep[];
}>;

/**
 * Where only positions are measured, a rate is formed from them, and must not run across a step of
 * the solution. At each stated hand-over the jump is estimated and the samples before it are moved
 * onto those after it. With a measured velocity nothing is done here: steps are then found against it.
 */
export function levelHandOvers(source: CheckedSource): Levelled {
  const overs = oversOf(source);
  const values = new Map<string, Float64Array>();
  const moved: MovedStep[] = [];
  if (overs.length === 0) return { values, moved };
  const measured = new Set(source.channels.map(({ channel }) => channel.as));
  for (const each of source.channels) {
    const rate = POSITIONS.get(each.channel.as);
    if (rate === undefined || measured.has(rate) || values.has(each.channel.as)) continue;
    const levelled = levelOne(source, each, overs);
    if (levelled.moved.length === 0) continue;
    values.set(each.channel.as, levelled.values);
    moved.push(...levelled.moved);
  }
  return { values, moved };
}
