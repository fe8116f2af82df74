/** By how much a solution jumped at an instant, in position and in velocity. */
import { student975 } from '../clock/error-scale';
import { lowerBound } from '../math/search';
import { medianInPlace, SD_PER_MAD } from '../math/statistics';
import { meanVarianceFactor, type Samples } from '../series/samples';

/** A jump, new minus old, with its 95 % half-width. */
export type Jump = Readonly<{ value: number; half: number }>;

/** Lines are fitted over this long on either side, s. */
export const POSITION_SPAN_S = 10;
const VELOCITY_SPAN_S = 4;
const FEWEST = 5;
/** Without a velocity the same lines elsewhere tell what they differ by as a rule, from so many places on. */
const FEWEST_PLACES = 6;

/** Stamps come rounded: a row this share of the span beyond its end still counts. */
const STAMP_TOLERANCE = 1e-6;

/** A line's value, its variance by the scatter about it, and the degrees of freedom of that. */
type Line = Readonly<{ value: number; variance: number; degrees: number }>;

/** A jump with its standard error, and the half-width of 95 % in those. */
type ToldJump = Readonly<{ value: number; error: number; factor: number }>;

const toJump = (told: ToldJump | null): Jump | null =>
  told === null ? null : { value: told.value, half: told.factor * told.error };

/**
 * Straight line by least squares through samples, carried to an instant.
 *
 * @returns the value there and its variance by the scatter about the line, raised for neighbours
 *   that err together; null for fewer than five samples
 */
function lineAt(
  tS: readonly number[],
  values: readonly number[],
  atS: number,
  correlation: number,
): Line | null {
  const n = tS.length;
  if (n < FEWEST) return null;
  let meanT = 0;
  let meanY = 0;
  for (let i = 0; i < n; i++) {
    meanT += (tS[i] ?? 0) / n;
    meanY += (values[i] ?? 0) / n;
  }
  let spread = 0;
  let product = 0;
  for (let i = 0; i < n; i++) {
    const t = (tS[i] ?? 0) - meanT;
    spread += t * t;
    product += t * ((values[i] ?? 0) - meanY);
  }
  if (spread === 0) return null;
  const slope = product / spread;
  let square = 0;
  for (let i = 0; i < n; i++) {
    square += ((values[i] ?? 0) - meanY - slope * ((tS[i] ?? 0) - meanT)) ** 2;
  }
  const scatter = (square / (n - 2)) * meanVarianceFactor(correlation);
  const away = atS - meanT;
  return {
    value: meanY + slope * away,
    variance: scatter * (1 / n + (away * away) / spread),
    degrees: n - 2,
  };
}

type Window = Readonly<{ tS: readonly number[]; values: readonly number[] }>;

/** Samples over a span before or after a step, both ends included, with a value taken off each. */
function windowOf(
  samples: Samples,
  { fromS, toS }: Readonly<{ fromS: number; toS: number }>,
  less: (atS: number) => number,
): Window {
  const tS: number[] = [];
  const values: number[] = [];
  for (let i = lowerBound(samples.tS, fromS); i < samples.tS.length; i++) {
    const atS = samples.tS[i] ?? Number.NaN;
    if (!(atS <= toS)) break;
    tS.push(atS);
    values.push((samples.values[i] ?? Number.NaN) - less(atS));
  }
  return { tS, values };
}

/** Way travelled from an instant by measured velocity, trapezoid rule, m; held beyond the samples. */
function wayFrom(velocity: Samples, originS: number): (atS: number) => number {
  const { tS, values } = velocity;
  const at = (whenS: number): number => {
    const after = lowerBound(tS, whenS);
    const v1 = values[Math.min(after, values.length - 1)] ?? 0;
    const t1 = tS[Math.min(after, tS.length - 1)] ?? whenS;
    const v0 = values[Math.max(0, after - 1)] ?? v1;
    const t0 = tS[Math.max(0, after - 1)] ?? whenS;
    return t1 > t0 ? v0 + ((v1 - v0) * Math.min(Math.max(whenS - t0, 0), t1 - t0)) / (t1 - t0) : v1;
  };
  return (whenS) => {
    const [lowS, highS] = whenS < originS ? [whenS, originS] : [originS, whenS];
    let wayM = 0;
    let beforeS = lowS;
    let beforeMps = at(lowS);
    for (let i = lowerBound(tS, lowS); i < tS.length && (tS[i] ?? 0) < highS; i++) {
      const hereS = tS[i] ?? beforeS;
      const mps = values[i] ?? beforeMps;
      wayM += 0.5 * (mps + beforeMps) * (hereS - beforeS);
      beforeS = hereS;
      beforeMps = mps;
    }
    wayM += 0.5 * (at(highS) + beforeMps) * (highS - beforeS);
    return whenS < originS ? -wayM : wayM;
  };
}

/** Few rows tell their scatter poorly: Student's t widens the interval for that. */
function jumpOf(before: Line | null, after: Line | null): ToldJump | null {
  if (before === null || after === null) return null;
  return {
    value: after.value - before.value,
    error: Math.sqrt(before.variance + after.variance),
    factor: student975(before.degrees + after.degrees),
  };
}

/** Between the last row of the old solution and the first of the new one, s. */
export type StepPlace = Readonly<{ beforeS: number; atS: number }>;

/**
 * Jump of a position that its velocity does not carry: lines over 10 s on either side of what is left
 * once the way travelled is taken off, carried to the instant.
 *
 * Without a measured velocity the lines are of the position itself: an acceleration a then adds
 * a x 5 s x 10 s / 3 or so to the jump; the half-width is then raised to what such lines differ by as a rule.
 *
 * @returns m with its 95 % half-width from scatter; null where either side has too few samples
 */
export function positionJump(
  position: Samples,
  velocity: Samples | null,
  { beforeS, atS }: StepPlace,
): Jump | null {
  const place = { beforeS, atS };
  if (velocity === null) return raisedJump(position, null, place);
  const less = wayFrom(velocity, (beforeS + atS) / 2);
  return toJump(linesJump(position, place, less, POSITION_SPAN_S));
}

/**
 * The same by lines over `spanS`, with the half-width raised to what such lines differ by as a rule, velocity
 * measured or not.
 */
export function raisedJump(
  position: Samples,
  velocity: Samples | null,
  place: StepPlace,
  spanS = POSITION_SPAN_S,
): Jump | null {
  const jumpAt = (at: StepPlace): ToldJump | null => {
    const less = velocity === null ? () => 0 : wayFrom(velocity, (at.beforeS + at.atS) / 2);
    return linesJump(position, at, less, spanS);
  };
  const told = jumpAt(place);
  if (told === null) return null;
  const raised = told.error * raiseElsewhere(position, place, jumpAt, spanS);
  return toJump({ ...told, error: raised });
}

/** Lines on either side of a place, carried to its middle. */
function linesJump(
  samples: Samples,
  { beforeS, atS }: StepPlace,
  less: (atS: number) => number,
  spanS: number,
): ToldJump | null {
  const middleS = (beforeS + atS) / 2;
  const slackS = STAMP_TOLERANCE * spanS;
  const side = (fromS: number, toS: number): Line | null => {
    const window = windowOf(samples, { fromS: fromS - slackS, toS: toS + slackS }, less);
    return lineAt(window.tS, window.values, middleS, samples.correlation);
  };
  return jumpOf(side(beforeS - spanS, beforeS), side(atS, atS + spanS));
}

/**
 * By how much more than the scatter about them such lines differ at the other places of the samples, as the
 * middle one of all shows: noise that hangs together for seconds is hardly seen in that scatter.
 */
function raiseElsewhere(
  position: Samples,
  { beforeS, atS }: StepPlace,
  jumpAt: (place: StepPlace) => ToldJump | null,
  spanS: number,
): number {
  const { tS } = position;
  const firstS = (tS[0] ?? Number.NaN) + spanS;
  const lastS = (tS[tS.length - 1] ?? Number.NaN) - spanS;
  const scores: number[] = [];
  for (let whenS = firstS; whenS <= lastS; whenS += 2 * spanS) {
    if (whenS > beforeS - spanS && whenS < atS + spanS) continue;
    const after = Math.max(1, lowerBound(tS, whenS));
    const jump = jumpAt({ beforeS: tS[after - 1] ?? whenS, atS: tS[after] ?? whenS });
    if (jump !== null && jump.error > 0) scores.push(Math.abs(jump.value) / jump.error);
  }
  if (scores.length < FEWEST_PLACES) return 1;
  return Math.max(1, SD_PER_MAD * medianInPlace(Float64Array.from(scores), scores.length));
}

/**
 * Jump of a measured velocity: lines over 4 s on either side, carried to the instant. A jet that
 * starts or stops inside that span adds to it.
 *
 * @returns m/s with its 95 % half-width from scatter; null where either side has too few samples
 */
export function velocityJump(velocity: Samples, place: StepPlace): Jump | null {
  return toJump(linesJump(velocity, place, () => 0, VELOCITY_SPAN_S));
}
