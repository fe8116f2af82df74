/** Moments of an approach at which it is worth saying where the vehicle was. */
import { lowerBound } from '../math/search';
import type { MotionEstimate } from '../motion/motion-estimate';
import { generalRule } from '../session/general-rule';
import type { Limit, Rule } from '../session/rule';

/**
 * Why a moment is in the list: the start of a run, first touch, a round range passed for the last
 * time, or the smallest room to the corridor.
 */
export type StationKind = 'run-start' | 'contact' | 'range' | 'least-clearance';

export type Station = Readonly<{
  kind: StationKind;
  atS: number;
  /** Index of the run that begins, or the round range, m; null for the others. */
  of: number | null;
}>;

/** Round ranges, m, as an approach is talked about; more would crowd the table. */
const ROUND_M = [
  1, 2, 5, 10, 20, 30, 50, 100, 150, 200, 300, 500, 1000, 1500, 2000, 3000, 5000, 10000,
] as const;

/** Which way a range is passed: towards the port or away from it. */
export type Passing = 'inwards' | 'outwards';

/** When a range was last passed in a direction, by straight line between rows; null where never. */
export function lastPassedS(
  motion: MotionEstimate,
  rangeM: number,
  passing: Passing,
): number | null {
  const { tS, rangeM: ranges, stretches } = motion;
  for (let s = stretches.length - 1; s >= 0; s--) {
    const span = stretches[s];
    if (span === undefined) continue;
    for (let row = span.to - 1; row > span.from; row--) {
      const before = ranges[row - 1] ?? Number.NaN;
      const here = ranges[row] ?? Number.NaN;
      const isPassed =
        passing === 'inwards'
          ? before > rangeM && here <= rangeM
          : before < rangeM && here >= rangeM;
      if (!isPassed) continue;
      const share = (before - rangeM) / (before - here);
      const t0 = tS[row - 1] ?? Number.NaN;
      return t0 + share * ((tS[row] ?? t0) - t0);
    }
  }
  return null;
}

/** A bound on the distance from the docking axis, with where it holds; null = everywhere. */
export type Corridor = Readonly<{
  rule: string;
  limit: Limit;
  rangeM: readonly [lowM: number, highM: number] | null;
  axialM: readonly [lowM: number, highM: number] | null;
  step: string | null;
}>;

/** The rules that bound the offset from the docking axis from above, in whatever form they are written. */
export function corridorsOf(rules: readonly Rule[]): readonly Corridor[] {
  return rules.flatMap((rule): Corridor[] => {
    const general = generalRule(rule);
    if (general.kind !== 'band' || general.high === null) return [];
    const { quantity, when, high } = general;
    if (quantity.kind !== 'named' || quantity.name !== 'lateral_offset') return [];
    return [
      {
        rule: rule.id,
        limit: high,
        rangeM: when?.rangeM ?? null,
        axialM: when?.axialM ?? null,
        step: when?.step ?? null,
      },
    ];
  });
}

/**
 * How far from the axis a limit lets the vehicle be, m.
 *
 * @returns null for a limit that is not on a distance
 */
export function corridorRadiusM(limit: Limit, axialM: number): number | null {
  if (limit.kind === 'constant') return limit.value;
  if (limit.kind === 'by-range') return null;
  return Math.max(limit.floorM, axialM * Math.tan(limit.halfAngleRad));
}

/** True where a corridor's distances hold. */
function applies(corridor: Corridor, rangeM: number, axialM: number): boolean {
  const inside = (value: number, bounds: readonly [number, number] | null): boolean =>
    bounds === null || (value >= bounds[0] && value <= bounds[1]);
  return inside(rangeM, corridor.rangeM) && inside(axialM, corridor.axialM);
}

/**
 * The tightest corridor at a place, of those that apply there by distance.
 *
 * @returns it and its radius, m; null where none applies. One bound to a step is passed over: a place
 *   alone does not tell the step
 */
export function tightestCorridor(
  corridors: readonly Corridor[],
  rangeM: number,
  axialM: number,
): Readonly<{ corridor: Corridor; radiusM: number }> | null {
  let best: { corridor: Corridor; radiusM: number } | null = null;
  for (const corridor of corridors) {
    if (corridor.step !== null || !applies(corridor, rangeM, axialM)) continue;
    const radiusM = corridorRadiusM(corridor.limit, axialM);
    if (radiusM !== null && (best === null || radiusM < best.radiusM)) best = { corridor, radiusM };
  }
  return best;
}

/** The moment of the smallest room to the corridor; null where no corridor applied. */
function leastClearanceS(
  motion: MotionEstimate,
  corridors: readonly Corridor[],
  span: Readonly<{ fromS: number; toS: number }>,
): number | null {
  let least = Number.POSITIVE_INFINITY;
  let atS: number | null = null;
  const anywhere = corridors.filter(({ step }) => step === null);
  if (anywhere.length === 0) return null;
  const to = lowerBound(motion.tS, span.toS + 1e-9);
  for (let row = lowerBound(motion.tS, span.fromS); row < to; row++) {
    const lateralM = motion.lateralM[row] ?? Number.NaN;
    if (Number.isNaN(lateralM)) continue;
    const rangeM = motion.rangeM[row] ?? Number.NaN;
    const axialM = motion.axialM[row] ?? Number.NaN;
    for (const corridor of anywhere) {
      const radiusM = applies(corridor, rangeM, axialM)
        ? corridorRadiusM(corridor.limit, axialM)
        : null;
      if (radiusM === null || radiusM - lateralM >= least) continue;
      least = radiusM - lateralM;
      atS = motion.tS[row] ?? null;
    }
  }
  return atS;
}

/**
 * The stations of an approach in time order: each run's start, each round range as it was passed
 * for the last time, the smallest room to the corridor, contact.
 *
 * @param passing the way in which round ranges count as passed
 * @param span the stretch evaluated, s
 */
export function stationsOf(
  motion: MotionEstimate,
  about: Readonly<{
    runStartsS: readonly number[];
    contactS: number | null;
    rules: readonly Rule[];
    passing: Passing;
    span: Readonly<{ fromS: number; toS: number }>;
  }>,
): readonly Station[] {
  const { span } = about;
  const stations: Station[] = about.runStartsS.map((atS, of) => ({ kind: 'run-start', atS, of }));
  let farM = 0;
  for (let row = 0; row < motion.rangeM.length; row++) {
    const rangeM = motion.rangeM[row] ?? Number.NaN;
    if (rangeM > farM) farM = rangeM;
  }
  for (const of of ROUND_M) {
    const atS = of > farM ? null : lastPassedS(motion, of, about.passing);
    if (atS !== null && atS >= span.fromS && atS <= span.toS)
      stations.push({ kind: 'range', atS, of });
  }
  const leastS = leastClearanceS(motion, corridorsOf(about.rules), span);
  if (leastS !== null) stations.push({ kind: 'least-clearance', atS: leastS, of: null });
  if (about.contactS !== null && about.contactS <= span.toS + 1e-9)
    stations.push({ kind: 'contact', atS: about.contactS, of: null });
  return stations.sort((a, b) => a.atS - b.atS);
}
