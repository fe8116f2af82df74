/** The clock that a session file states: given, or from tie points. */
import { type ClockSolution, statedClock } from './clock-solution';
import type { ClockSpec } from './clock-spec';
import { toSessionSeconds } from './clock-terms';
import type { ClockTie } from './clock-tie';
import type { WeighedPoint } from './fit-line';
import { type PointClock, solveClock } from './solve-clock';

/** A tie point with who set it. */
type Point = WeighedPoint & Readonly<{ kind: 'stated' | 'hand' }>;

/** Leaving each point out in turn takes the square of their number; beyond this it is not done. */
const MOST_LEFT_OUT = 500;

/** Tie points that ask for more drift than session.yaml may state are of no clock, ppm. */
const LARGEST_DRIFT_PPM = 100_000;

/**
 * How well a tie point of a session file is supposed to be placed, s (1 sd), where it is weighed
 * beside points set by hand or lies close to another. Our own choice, no source.
 */
const STATED_SD_S = 0.05;

function tiesOf(
  points: readonly Point[],
  solution: ClockSolution,
  clock: PointClock,
): readonly ClockTie[] {
  const isWeighed = clock.errors === 'known';
  const weights = points.reduce((sum, { sdS }) => sum + sdS ** -2, 0);
  const without = (index: number): ClockTie['without'] => {
    if (points.length < 2 || points.length > MOST_LEFT_OUT) return null;
    const left = points.filter((_, other) => other !== index);
    const { offsetS, driftPpm } = solveClock(left, clock);
    return { offsetS, driftPpm };
  };
  return points.map(({ kind, sourceS, sessionS, sdS }, index) => ({
    kind,
    label: kind === 'hand' ? 'set by hand' : 'tie point of the session file',
    line: null,
    spokenIndex: null,
    sourceS,
    sessionS,
    residualS: sessionS - toSessionSeconds(solution, sourceS),
    residualBeforeS: sessionS - sourceS,
    sdS: isWeighed ? sdS : null,
    weight: sdS ** -2 / weights,
    used: true,
    reason: isWeighed
      ? `weighed by its standard deviation, ${kind === 'hand' ? '' : 'supposed to be '}${sdS} s`
      : 'every tie point counts alike',
    without: without(index),
    withoutSdS: null,
  }));
}

const rms = (valuesS: readonly number[]): number =>
  Math.hypot(...valuesS) / Math.sqrt(valuesS.length);

function clockFromPoints(points: readonly Point[], standingPpm: number): ClockSolution {
  const isByHand = points.some(({ kind }) => kind === 'hand');
  const clock: PointClock = { standingPpm, errors: isByHand ? 'known' : 'found' };
  const solution = solveClock(points, clock);
  const ties = tiesOf(points, solution, clock);
  return {
    ...solution,
    // One point lies on its clock by itself: that is no residual.
    residualRmsS: points.length < 2 ? null : rms(ties.map(({ residualS }) => residualS ?? 0)),
    evidence: {
      lag: null,
      offsetFromLagS: 0,
      rangeBiasM: null,
      rangeBiasUncertaintyM: null,
      residualBeforeRmsS: rms(ties.map(({ residualBeforeS }) => residualBeforeS ?? 0)),
      outlierRule: 'none: every tie point counts',
      ties,
    },
  };
}

function asStated(spec: StatedSpec, points: readonly Point[]): ClockSolution {
  return spec.kind === 'given'
    ? statedClock({ offsetS: spec.offsetS, driftPpm: spec.driftPpm }, null)
    : clockFromPoints(points, 0);
}

/** A clock that is not found from words. */
type StatedSpec = Exclude<ClockSpec, { kind: 'callouts' }>;

/**
 * The clock of a source whose session file gives offset and drift, or tie points.
 *
 * Tie points: weighted least squares, every point counts. One gives the offset only, and so do
 * points too close together to tell a drift. Those of a session file alone count alike: two fix
 * offset and drift without an uncertainty, from three on the uncertainties come from the residuals,
 * by Student's t. Where some are set by hand each is weighed by its standard deviation. Points set
 * by hand take the place of an offset that was given, and of its drift where they tell another;
 * unless no clock runs as they say: time would stand still or go back.
 *
 * @param spec the clock stated; `callouts` is found elsewhere, from the words (`alignClock`)
 * @param byHand tie points that people set, `sdS` above 0
 * @returns the clock with its uncertainties; null where none can be told
 */
export function resolveClock(spec: StatedSpec, byHand: readonly WeighedPoint[]): ClockSolution {
  const stated =
    spec.kind === 'given'
      ? []
      : spec.points.map(
          ([sourceS, sessionS]): Point => ({ kind: 'stated', sourceS, sessionS, sdS: STATED_SD_S }),
        );
  if (byHand.length === 0) return asStated(spec, stated);
  const hand = byHand.map(({ sourceS, sessionS, sdS }): Point => {
    return { kind: 'hand', sourceS, sessionS, sdS };
  });
  const all = [...stated, ...hand].sort((a, b) => a.sourceS - b.sourceS);
  const found = clockFromPoints(all, spec.kind === 'given' ? spec.driftPpm : 0);
  if (Math.abs(found.driftPpm) <= LARGEST_DRIFT_PPM) return found;
  const kept = asStated(spec, stated);
  const reason = `with the tie points set by hand the clock would run wrong by more than ${LARGEST_DRIFT_PPM} ppm; they are left out`;
  return { ...kept, rejected: kept.rejected + hand.length, reason };
}
