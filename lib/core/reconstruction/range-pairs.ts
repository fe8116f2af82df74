/** Ranges measured beside the solution, held against the solution's range. */
import type { Figure } from '../figure';
import { NORMAL_95 } from '../math/statistics';
import { motionAt } from '../motion/sample-motion';
import { stepErrorSdM } from '../motion/step-error';
import {
  type Agreement,
  agreementByRange,
  agreementOf,
  type Differences,
} from '../navigation/range-agreement';
import { takeSamples } from '../series/samples';
import { statedAccuracy } from './accuracy';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { figureOf, type Origin } from './figure-of';
import type { PairDifferences, RangePair } from './navigation-report';

/** More differences would not tell bias and scatter better: every n-th is taken. */
const MOST = 4000;

type MeasuredRange = Readonly<{
  source: CheckedSource;
  channels: readonly string[];
  tS: Float64Array;
  rangeM: Float64Array;
}>;

function channelOf(source: CheckedSource, as: string) {
  return source.channels.find(({ channel }) => channel.as === as);
}

/** The range that a source measures, or forms from three components; null where it has neither. */
function rangeOf(source: CheckedSource): MeasuredRange | null {
  const direct = channelOf(source, 'range');
  if (direct !== undefined) {
    const { tS, values } = takeSamples(source.tS, direct.channel.values, direct.rejected);
    return { source, channels: [direct.channel.name], tS, rangeM: values };
  }
  const axes = ['x', 'y', 'z'].map((axis) => channelOf(source, `position.${axis}`));
  const [x, y, z] = axes;
  if (x === undefined || y === undefined || z === undefined) return null;
  const rangeM = source.tS.map((_, row) => {
    const isOut = [x, y, z].some(({ rejected }) => rejected !== null && rejected[row] !== 0);
    const at = (values: Float64Array): number => values[row] ?? Number.NaN;
    if (isOut) return Number.NaN;
    return Math.hypot(at(x.channel.values), at(y.channel.values), at(z.channel.values));
  });
  const { tS, values } = takeSamples(source.tS, rangeM, null);
  return { source, channels: [x, y, z].map(({ channel }) => channel.name), tS, rangeM: values };
}

function differencesOf(
  { motion }: SessionMotion,
  second: MeasuredRange,
  span: Readonly<{ fromS: number; toS: number }>,
): Differences & Readonly<{ everySample: number }> {
  const stride = Math.max(1, Math.ceil(second.tS.length / MOST));
  const tS: number[] = [];
  const rangeM: number[] = [];
  const differenceM: number[] = [];
  for (let i = 0; i < second.tS.length; i += stride) {
    const atS = second.tS[i] ?? Number.NaN;
    if (atS < span.fromS || atS > span.toS) continue;
    const first = motionAt(motion, 'rangeM', atS);
    const difference = (second.rangeM[i] ?? Number.NaN) - first;
    if (Number.isNaN(difference)) continue;
    tS.push(atS);
    rangeM.push(first);
    differenceM.push(difference);
  }
  return {
    tS: Float64Array.from(tS),
    rangeM: Float64Array.from(rangeM),
    differenceM: Float64Array.from(differenceM),
    everySample: stride,
  };
}

/**
 * What the moved steps leave unknown in a mean of differences, 95 %: those before a step err alike by
 * the error of its size.
 */
function stepHalfM(session: SessionMotion, tS: readonly number[]): number {
  if (session.motion.steps.length === 0 || tS.length === 0) return 0;
  let sum = 0;
  for (const atS of tS) sum += stepErrorSdM(session.motion, atS);
  return (NORMAL_95 * sum) / tS.length;
}

const BIAS_METHOD =
  'Mean of that range less the estimated range of the solution at its own samples, repeats left out; differences that err together are counted as fewer, those before a step of the solution err by the error of its size. The systematic part is what both sources state, never the scatter.';
const SCATTER_METHOD =
  'Standard deviation of those differences about their mean; it holds the errors of both that do not stay.';

type Written = Readonly<{ biasM: Figure; scatterM: Figure }>;

/** The figures of a pair, and the differences they are formed from. */
type ComparedRanges = Readonly<{ pair: RangePair; differences: PairDifferences }>;

/** What the figures of a pair rest on. */
type PairBasis = Readonly<{
  session: SessionMotion;
  differences: Differences;
  origin: Origin;
  systematic: number | null;
}>;

/** The agreement over a band of range as figures. */
function written(
  { session, differences, origin, systematic }: PairBasis,
  { biasM, scatterM }: Agreement,
  [toM, fromM]: readonly [number, number],
): Written {
  const inBand = [...differences.tS].filter((_, i) => {
    const rangeM = differences.rangeM[i] ?? Number.NaN;
    return rangeM > toM && rangeM <= fromM;
  });
  const over = {
    fromS: differences.tS[0] ?? null,
    toS: differences.tS[differences.tS.length - 1] ?? null,
  };
  return {
    biasM: figureOf(origin, {
      value: biasM.value,
      unit: 'm',
      random: Math.hypot(biasM.half, stepHalfM(session, inBand)),
      systematic,
      method: BIAS_METHOD,
      ...over,
    }),
    scatterM: figureOf(origin, {
      value: scatterM.value,
      unit: 'm',
      random: scatterM.half,
      method: SCATTER_METHOD,
      ...over,
    }),
  };
}

/** Sources, channels and stated accuracies behind the differences of two ranges. */
function basisOf(
  session: SessionMotion,
  { source, channels }: MeasuredRange,
  differences: Differences,
): PairBasis {
  const { file, sha256 } = source.source;
  const other = session.origin.sources.filter((each) => each.file !== file);
  const origin: Origin = {
    sources: [...other, { file, sha256 }],
    channels: [...new Set([...session.origin.channels, ...channels])],
  };
  const parts = [
    session.stated.rangeM,
    statedAccuracy(source.source.declared, ['range', 'position.x']),
  ];
  const known = parts.filter((part): part is number => part !== null);
  const systematic = known.length === 0 ? null : Math.hypot(...known);
  return { session, differences, origin, systematic };
}

function pairOf(
  session: SessionMotion,
  second: MeasuredRange,
  span: Readonly<{ fromS: number; toS: number }>,
): ComparedRanges | null {
  const differences = differencesOf(session, second, span);
  const whole = agreementOf(differences.differenceM);
  if (whole === null) return null;
  const basis = basisOf(session, second, differences);
  const [own, other] = [session.source.source, second.source.source];
  const isOne = own.file === other.file;
  const names = {
    first: isOne ? `${own.file}, position` : own.file,
    second: isOne ? `${own.file}, ${second.channels.join(', ')}` : other.file,
  };
  const pair: RangePair = {
    ...names,
    points: { first: own.declared.points, second: other.declared.points },
    count: whole.count,
    independent: whole.independent,
    ...written(basis, whole, [-1, Number.POSITIVE_INFINITY]),
    bands: agreementByRange(differences).map(({ fromM, toM, agreement }) => ({
      fromM: Number.isFinite(fromM) ? fromM : null,
      toM,
      ...written(basis, agreement, [toM, fromM]),
    })),
  };
  return { pair, differences: { ...names, ...differences } };
}

/**
 * Each other range of the session against the solution's: of another source, or a range measured
 * beside the positions of the same one.
 *
 * @param span the stretch evaluated, s
 */
export function rangePairs(
  session: SessionMotion,
  sources: readonly CheckedSource[],
  span: Readonly<{ fromS: number; toS: number }>,
): readonly ComparedRanges[] {
  const isFromPosition = !['range-only', 'range-and-rate'].includes(session.motion.basis);
  return sources.flatMap((source): ComparedRanges[] => {
    const isOwn = session.parts.includes(source);
    if (isOwn && !(isFromPosition && channelOf(source, 'range') !== undefined)) return [];
    const second = rangeOf(source);
    const compared = second === null ? null : pairOf(session, second, span);
    return compared === null ? [] : [compared];
  });
}
