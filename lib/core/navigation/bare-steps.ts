/** Steps in a position that no velocity is measured beside: told from motion by how sudden they are. */
import { lowerBound } from '../math/search';
import { squareOfStep } from '../math/step-beside-parabola';
import type { RowSpan } from '../motion/row-span';
import type { Samples } from '../series/samples';
import type { StepPlace } from './solution-step';

/** What the vehicle may do, as far as it is known. */
export type Mobility = Readonly<{
  /** The plan's acceleration, m/s2; `null` without one. */
  accelerationMps2: number | null;
}>;

/** Without a plan a vehicle is supposed to accelerate by this at most, m/s2. Our own choice. */
export const SUPPOSED_MPS2 = 0.02;
/** Motion is allowed this many times the plan's acceleration. Our own choice. */
const ALLOWED = 10;
/** The motion round a step is a parabola over this long on either side, or so many samples, s. */
const BESIDE_S = 10;
const FEWEST = 10;
/**
 * A step takes this much off the squares at least, and this much more than any motion, in variances: of
 * samples 1 s apart. Closer ones are as many more places where chance may make one; twice the logarithm
 * of their number a second is added.
 */
const LEAST_GAIN = 49;
const LEAST_LEAD = 9;
/**
 * Over motion that takes more than so many times the plan's acceleration a smaller lead will do: few samples tell
 * such a way from a step, and it is itself hardly to be expected. Our own choice.
 */
const LIKELY = 3;
const LEAD_OVER_UNLIKELY = 4;
/** Over a rate that changes at once, since the port does that in every flight. */
const LEAD_OVER_BEND = 16;
/** First means of so many samples are looked at: they have to differ by so many standard deviations of one. */
const MEAN_OF = 5;
const ROUGH = 3.5;
/** A step takes one interval; motion that is held against it takes two and a half at least. */
const LEAST_INTERVALS = 2.5;
/** Its lengths, as multiples of the shortest one possible, and places of its middle, in half lengths. */
const LENGTHS = [1, 1.5, 2.2, 3.3, 5];
const MIDDLES = [-1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1];

/** A row and what a step there takes off the squares. */
type Found = Readonly<{ index: number; gain: number }>;

/** Sums of so many samples from each one on. */
function slidingSums(values: Float64Array): Float64Array {
  const sums = new Float64Array(Math.max(0, values.length - MEAN_OF + 1));
  for (let i = 0; i < sums.length; i++) {
    let sum = 0;
    for (let k = i; k < i + MEAN_OF; k++) sum += values[k] ?? Number.NaN;
    sums[i] = sum;
  }
  return sums;
}

/** By how much means before and after a sample differ beyond the way between them, m. */
function roughStep(sums: Float64Array, at: number): number {
  const of = (means: number): number => sums[at + means * MEAN_OF] ?? Number.NaN;
  return (1.5 * (of(0) - of(-1)) - 0.5 * (of(1) - of(-2))) / MEAN_OF;
}

const dot = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
};

/** Takes from a column what the others of the base, each of length 1, explain of it. */
function without(column: Float64Array, base: readonly Float64Array[]): Float64Array {
  for (const unit of base) {
    const share = dot(column, unit);
    for (let i = 0; i < column.length; i++) column[i] = (column[i] ?? 0) - share * (unit[i] ?? 0);
  }
  return column;
}

/** Constant, line and parabola over a window, at right angles and of length 1. */
function parabolas(tS: Float64Array): readonly Float64Array[] {
  const reachS = Math.abs(tS[0] ?? 0) + Math.abs(tS[tS.length - 1] ?? 0);
  const base: Float64Array[] = [];
  for (const power of [0, 1, 2]) {
    const column = without(
      tS.map((atS) => (atS / reachS) ** power),
      base,
    );
    const length = Math.sqrt(dot(column, column));
    base.push(column.map((value) => value / length));
  }
  return base;
}

/**
 * What a step before a sample takes off the squares beyond a parabola, in variances of the noise or of
 * what is left over, whichever is larger; 0 where motion explains it about as well, or may.
 */
function gainOf(samples: Samples, index: number, span: RowSpan, mostMps2: number): number {
  const { tS, values, sd } = samples;
  const intervalS = (tS[index] ?? 0) - (tS[index - 1] ?? 0);
  const middleS = ((tS[index] ?? 0) + (tS[index - 1] ?? 0)) / 2;
  const from = Math.max(span.from, Math.min(lowerBound(tS, middleS - BESIDE_S), index - FEWEST));
  const to = Math.min(span.to, Math.max(lowerBound(tS, middleS + BESIDE_S), index + FEWEST));
  if (index - from < FEWEST || to - index < FEWEST) return 0;
  // Most places are no step by far, and one pass tells these; its rounding is far below the hundredth.
  const rough = squareOfStep({ tS, values, from, to, index });
  if (rough <= 0.99 * LEAST_GAIN * (sd[index] ?? 0) ** 2) return 0;
  const awayS = tS.slice(from, to).map((atS) => atS - middleS);
  const base = parabolas(awayS);
  const first = values[index] ?? 0;
  const data = without(
    values.slice(from, to).map((value) => value - first),
    base,
  );
  const taken = (shape: (atS: number) => number): Readonly<{ square: number; size: number }> => {
    const column = without(awayS.map(shape), base);
    const [own, with_] = [dot(column, column), dot(column, data)];
    return { square: with_ ** 2 / own, size: with_ / own };
  };
  const step = taken((atS) => (atS < 0 ? 0 : 1));
  const sizeM = Math.abs(step.size);
  // From rest to rest a way takes the root of 4 ways over the acceleration.
  if (!(sizeM > (mostMps2 * intervalS ** 2) / 4)) return 0;
  const left = Math.max(0, dot(data, data) - step.square) / (data.length - 4);
  const unit = Math.max((sd[index] ?? 0) ** 2, left, (1e-12 * first) ** 2);
  if (!(step.square > LEAST_GAIN * unit)) return 0;
  const leastS = Math.max(LEAST_INTERVALS * intervalS, Math.sqrt((4 * sizeM) / mostMps2));
  const chance = 2 * Math.log(Math.max(1, 1 / intervalS));
  for (const length of LENGTHS) {
    const lastsS = length * leastS;
    const isLikely = (4 * sizeM) / lastsS ** 2 <= (LIKELY / ALLOWED) * mostMps2;
    const lead = chance + (isLikely ? LEAST_LEAD : LEAD_OVER_UNLIKELY);
    for (const middle of MIDDLES) {
      const startS = ((middle - 1) * lastsS) / 2;
      const { square } = taken((atS) => Math.min(1, Math.max(0, (atS - startS) / lastsS)));
      if (!(step.square - square > lead * unit)) return 0;
      // A rate that changes at once, as by the port.
      if (length !== 1) continue;
      const bend = taken((atS) => Math.max(0, atS - (middle * lastsS) / 2));
      if (!(step.square - bend.square > (chance + LEAD_OVER_BEND) * unit)) return 0;
    }
  }
  return step.square / unit;
}

/** Steps within a stretch without a gap: of neighbours closer than the window the surest one. */
function stepsIn(
  samples: Samples,
  sums: Float64Array,
  span: RowSpan,
  mostMps2: number,
): readonly Found[] {
  const { tS, sd } = samples;
  const found: Found[] = [];
  for (let at = span.from + FEWEST; at < span.to - FEWEST; at++) {
    if (!(Math.abs(roughStep(sums, at)) > ROUGH * (sd[at] ?? Number.NaN))) continue;
    const gain = gainOf(samples, at, span, mostMps2);
    if (gain === 0) continue;
    const last = found[found.length - 1];
    if (last === undefined || (tS[at] ?? 0) - (tS[last.index] ?? 0) > BESIDE_S)
      found.push({ index: at, gain });
    else if (gain > last.gain) found[found.length - 1] = { index: at, gain };
  }
  return found;
}

/**
 * Finds steps of a solution in a position by itself. The samples round an instant are held against a
 * parabola with a step between two neighbours, and against one with a way of the same kind that motion makes: no
 * sooner than ten times the plan's acceleration allows, nor within two and a half intervals. The step has to be far
 * above the noise and to explain the samples much better than any such motion, so that an excursion of
 * the rate is none.
 *
 * @param samples updates of a position or range
 * @param spans stretches without a gap, as index ranges of the updates
 * @returns in time order; steps closer together than 10 s count as one, the surest
 */
export function findBareSteps(
  samples: Samples,
  spans: readonly RowSpan[],
  { accelerationMps2 }: Mobility,
): readonly StepPlace[] {
  const mostMps2 = ALLOWED * (accelerationMps2 ?? SUPPOSED_MPS2);
  const sums = slidingSums(samples.values);
  return spans
    .flatMap((span) => stepsIn(samples, sums, span, mostMps2))
    .map(({ index }) => ({
      beforeS: samples.tS[index - 1] ?? Number.NaN,
      atS: samples.tS[index] ?? Number.NaN,
    }));
}
