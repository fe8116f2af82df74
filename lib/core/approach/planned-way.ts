/** A planned move as time over range: the profile with its ramps. */
import { profileAt } from '../math/search';
import { leadsInwards } from '../phases/match-steps';
import type { MoveStep, Plan } from '../session/plan';

/** Time since the move's start at places along it; `wayM` ascends from 0, `elapsedS` with it. */
export type PlannedWay = Readonly<{
  fromM: number;
  toM: number;
  wayM: Float64Array;
  elapsedS: Float64Array;
}>;

/** Parts into which the way is cut; the rate is close to linear in time over each. */
const PARTS = 800;

/**
 * Range at which a step begins by plan, m: where the step before it ends.
 *
 * @returns for a first step that moves, the end of its profile that lies behind it: the outermost range
 *   inwards, the innermost outwards. Infinity where a profile inwards reaches no farther than the target
 */
export function plannedStartM(plan: Plan, stepIndex: number): number {
  const before = plan.steps[stepIndex - 1];
  if (before !== undefined) return before.kind === 'hold' ? before.holdM : before.toM;
  const step = plan.steps[stepIndex];
  if (step === undefined) return Number.NaN;
  if (step.kind === 'hold') return step.holdM;
  const ranges = step.closingRateMps.map(([rangeM]) => rangeM);
  if (!leadsInwards(step)) return Math.min(...ranges);
  const outermostM = Math.max(...ranges);
  return outermostM > step.toM ? outermostM : Number.POSITIVE_INFINITY;
}

/** True where a move ends at rest: a hold follows it. */
function endsAtRest(plan: Plan, stepIndex: number): boolean {
  return plan.steps[stepIndex + 1]?.kind === 'hold';
}

/** True where a move begins at rest: a hold stands before it, or nothing. */
function beginsAtRest(plan: Plan, stepIndex: number): boolean {
  return plan.steps[stepIndex - 1]?.kind !== 'move';
}

/**
 * Time over range of a planned move: along its profile, with ramps of the plan's acceleration where
 * it begins or ends at rest.
 *
 * @param plan the plan; its acceleration shapes the ramps
 * @param stepIndex a move
 * @returns the way from its planned start to its target; a move to the port ends at first touch. Null
 *   of a hold, and where the plan does not say from where the move comes
 *
 * Valid: the profile has one sign; a rate of 0 on the way is taken as 0.1 mm/s.
 * Source: elementary; over a part of constant acceleration the mean of the rates at its ends is exact.
 */
export function plannedWay(plan: Plan, stepIndex: number): PlannedWay | null {
  const step = plan.steps[stepIndex];
  if (step?.kind !== 'move') return null;
  const fromM = plannedStartM(plan, stepIndex);
  const isLast = stepIndex === plan.steps.length - 1;
  const toM = isLast && step.toM < plan.contactAxialM ? plan.contactAxialM : step.toM;
  const lengthM = Math.abs(fromM - toM);
  if (!(lengthM > 0 && lengthM < Number.POSITIVE_INFINITY)) return null;
  const direction = Math.sign(toM - fromM);
  const { accelerationMps2 } = plan;
  const rateAt = (wayM: number): number => {
    const wanted = Math.abs(profileOf(step, fromM + direction * wayM));
    const up = beginsAtRest(plan, stepIndex) ? Math.sqrt(2 * accelerationMps2 * wayM) : Infinity;
    const left = Math.max(0, lengthM - wayM);
    const down = endsAtRest(plan, stepIndex) ? Math.sqrt(2 * accelerationMps2 * left) : Infinity;
    return Math.min(Math.max(wanted, 1e-4), up, down);
  };
  const wayM = new Float64Array(PARTS + 1);
  const elapsedS = new Float64Array(PARTS + 1);
  let before = rateAt(0);
  for (let part = 1; part <= PARTS; part++) {
    // Closer together at both ends, where the rate changes fastest over the way.
    wayM[part] = (lengthM * (1 - Math.cos((Math.PI * part) / PARTS))) / 2;
    const here = rateAt(wayM[part] ?? 0);
    const lengthOfPart = (wayM[part] ?? 0) - (wayM[part - 1] ?? 0);
    elapsedS[part] = (elapsedS[part - 1] ?? 0) + (2 * lengthOfPart) / (before + here);
    before = here;
  }
  return { fromM, toM, wayM, elapsedS };
}

function profileOf(step: MoveStep, rangeM: number): number {
  return profileAt(step.closingRateMps, rangeM);
}

/**
 * Planned time since the move's start at a range, s.
 *
 * @returns 0 before its start, the whole length beyond its end
 */
export function plannedElapsedS(way: PlannedWay, rangeM: number): number {
  const doneM = (rangeM - way.fromM) * Math.sign(way.toM - way.fromM);
  const last = way.wayM.length - 1;
  if (!(doneM > 0)) return 0;
  if (doneM >= (way.wayM[last] ?? 0)) return way.elapsedS[last] ?? 0;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    if ((way.wayM[middle] ?? 0) <= doneM) low = middle;
    else high = middle;
  }
  const w0 = way.wayM[low] ?? 0;
  const w1 = way.wayM[high] ?? w0;
  const t0 = way.elapsedS[low] ?? 0;
  const t1 = way.elapsedS[high] ?? t0;
  return t0 + ((doneM - w0) / (w1 - w0)) * (t1 - t0);
}

/** Planned time of the whole move along its profile, s. */
export function plannedLengthS(way: PlannedWay): number {
  return way.elapsedS[way.elapsedS.length - 1] ?? Number.NaN;
}
