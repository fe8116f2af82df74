/** Positions without a measured velocity, brought onto one solution across its steps. */
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MovedStep } from '../motion/motion-estimate';
import { stretchesOf } from '../motion/row-spans';
import { findBareSteps, type Mobility, SUPPOSED_MPS2 } from '../navigation/bare-steps';
import { POSITION_SPAN_S, raisedJump, type StepPlace } from '../navigation/solution-step';
import { feedStretches, type HandOver, handOvers } from '../navigation/source-states';
import { takeSamples } from '../series/samples';
import type { CheckedChannel, CheckedSource } from './data-quality';
import type { JoinedSource } from './joined-source';

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

/** Stated hand-overs between rows that are used: those of a source beside another are none of the motion's. */
function statedOvers({ parts, joins }: JoinedSource): readonly HandOver[] {
  return parts.flatMap((part, index) => {
    const fromS = joins[index - 1]?.atS ?? Number.NEGATIVE_INFINITY;
    const toS = joins[index]?.beforeS ?? Number.POSITIVE_INFINITY;
    return oversOf(part).filter(({ beforeS, atS }) => beforeS >= fromS && atS <= toS);
  });
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
/** Where another source goes on it is one outside its interval: two sources seldom agree altogether. */
const SURE_AT_JOIN = 1;
/** There lines reach over so many of the rarer rows, and along a measured velocity over so long, s. */
const JOIN_ROWS = 8;
const JOIN_SPAN_S = 60;
/** Samples this far round a step tell how neighbours err together, s, and so many spans of the lines. */
const ROUND_S = 300;
const ROUND_SPANS = 10;
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

/** A position with the rate measured beside it; `rate` is undefined where none is. */
type Levelling = Readonly<{
  position: CheckedChannel;
  rate: CheckedChannel | undefined;
  mobility: Mobility;
}>;

/** Where a step may be, over how long lines tell it, s, and beyond how many half-widths it is one. */
type Place = StepPlace & Readonly<{ spanS: number; sure: number }>;

const usual = (place: StepPlace): Place => ({ ...place, spanS: POSITION_SPAN_S, sure: SURE });

/** Places where another source goes on. */
function joinPlaces({ source, joins }: JoinedSource, leastS: number): readonly Place[] {
  const spanS = Math.max(leastS, JOIN_ROWS * source.stepS);
  return joins.map((place) => ({ ...place, spanS, sure: SURE_AT_JOIN }));
}

/**
 * How far off the way through a silence may be that is carried by the rates on either side of it: off to one side
 * at the plan's acceleration for half of it and back for the other half, m.
 */
function unseenWay({ beforeS, atS }: StepPlace, { accelerationMps2 }: Mobility): number {
  return ((accelerationMps2 ?? SUPPOSED_MPS2) * (atS - beforeS) ** 2) / 4;
}

/** Moves the samples before each place onto those after it, in place; the steps moved, in time order. */
function levelAt(
  tS: Float64Array,
  values: Float64Array,
  { position, rate, mobility }: Levelling,
  places: readonly Place[],
): readonly MovedStep[] {
  const moved: MovedStep[] = [];
  // The last one first: what lies before an earlier one is moved by both.
  for (const place of [...places].reverse()) {
    const roundS = Math.max(ROUND_S, ROUND_SPANS * place.spanS);
    const from = lowerBound(tS, place.beforeS - roundS);
    const to = lowerBound(tS, place.atS + roundS);
    const round = (column: Float64Array, rejected: Uint8Array | null) =>
      takeSamples(
        tS.subarray(from, to),
        column.subarray(from, to),
        rejected === null ? null : rejected.subarray(from, to),
      );
    const samples = round(values, position.rejected);
    const rates = rate === undefined ? null : round(rate.channel.values, rate.rejected);
    const jump = raisedJump(samples, rates, place, place.spanS);
    if (jump === null) continue;
    const unseenM = unseenWay(place, mobility);
    const overM = Math.abs(jump.value) - place.sure * jump.half;
    if (overM <= 0) continue;
    const common = {
      channel: position.channel.name,
      axis: axisOf(position.channel.as),
      beforeS: place.beforeS,
      afterS: place.atS,
    };
    if (overM <= unseenM) {
      // Flown or stepped: nothing tells which, so nothing is moved, and what lies before may be off by all of it.
      moved.unshift({ ...common, sizeM: 0, sizeSdM: Math.abs(jump.value) / NORMAL_95 });
      continue;
    }
    const first = lowerBound(tS, place.atS);
    for (let row = 0; row < first; row++) values[row] = (values[row] ?? Number.NaN) + jump.value;
    const sizeSdM = (jump.half + unseenM) / NORMAL_95;
    moved.unshift({ ...common, sizeM: jump.value, sizeSdM });
  }
  return moved;
}

type Column = Readonly<{ values: Float64Array; moved: readonly MovedStep[] }>;

/** A position without a rate beside it: stated steps, and those that the samples show. */
function levelBare(
  source: CheckedSource,
  position: CheckedChannel,
  overs: readonly Place[],
  mobility: Mobility,
): Column {
  const { tS } = source;
  const values = position.channel.values.slice();
  const bare = { position, rate: undefined, mobility };
  const stated = levelAt(tS, values, bare, overs);
  const isStated = ({ beforeS, atS }: StepPlace): boolean =>
    stated.some((step) => atS >= step.beforeS - SAME_S && beforeS <= step.afterS + SAME_S);
  const places = silentPlaces(source, values, position, mobility);
  const silent = places.filter((place) => !isStated(place)).map(usual);
  const moved = [...stated, ...levelAt(tS, values, bare, silent)];
  return { values, moved: moved.sort((a, b) => a.afterS - b.afterS) };
}

/** A position with its rate: only where another source goes on, for steps elsewhere are found against the rate. */
function levelJoins(joined: JoinedSource, levelling: Levelling): Column {
  const values = levelling.position.channel.values.slice();
  const places = joinPlaces(joined, JOIN_SPAN_S);
  return { values, moved: levelAt(joined.source.tS, values, levelling, places) };
}

export type Levelled = Readonly<{
  /** Values to use in place of the file's, by quantity. */
  values: ReadonlyMap<string, Float64Array>;
  moved: readonly MovedStep[];
}>;

/**
 * Where only positions are measured, a rate is formed from them, and must not run across a step of
 * the solution. At each stated hand-over, where another source goes on, and wherever the samples show a step that no motion makes, the
 * jump is estimated and the samples before it are moved onto those after it; not through a silence in which the
 * vehicle may have gone that way. With a measured velocity this is done where another source goes on; other steps are then found against it.
 */
export function levelSteps(joined: JoinedSource, mobility: Mobility): Levelled {
  const { source, joins } = joined;
  const stated = statedOvers(joined).map(usual);
  const overs = [...stated, ...joinPlaces(joined, POSITION_SPAN_S)].sort((a, b) => a.atS - b.atS);
  const values = new Map<string, Float64Array>();
  const moved: MovedStep[] = [];
  const measured = new Map(source.channels.map((each) => [each.channel.as, each]));
  // Three components are the motion; a range beside them has steps of its own.
  const byAxes = ['x', 'y', 'z'].every((axis) => measured.has(`position.${axis}`));
  for (const position of source.channels) {
    const { as } = position.channel;
    const rateName = POSITIONS.get(as);
    if (rateName === undefined || values.has(as) || byAxes === (as === 'range')) continue;
    const rate = measured.get(rateName);
    if (rate !== undefined && joins.length === 0) continue;
    const levelled =
      rate === undefined
        ? levelBare(source, position, overs, mobility)
        : levelJoins(joined, { position, rate, mobility });
    if (levelled.moved.length === 0) continue;
    values.set(as, levelled.values);
    moved.push(...levelled.moved);
  }
  return { values, moved };
}
