/** Time left to contact, or outwards to the plan's end: by the plan, and by the rate of a moment. */
import { leadsAway } from '../phases/match-steps';
import type { Plan } from '../session/plan';
import { plannedElapsedS, plannedLengthS, plannedWay } from './planned-way';

/** Where the flight stands in the plan: the step it is in, since when, at what range. */
export type PlanPlace = Readonly<{ stepIndex: number; sinceS: number; rangeM: number }>;

/** Time from a place in the plan to the plan's end, s. */
export type PlanClock = (place: PlanPlace) => number;

/**
 * Time from here to the end of the plan if the rest is flown as planned.
 *
 * The rest of a move is the time along its profile from this range; the rest of a hold is what of its
 * planned length has not passed; each later step takes its planned length. A hold that has overrun
 * has no rest, and none less than none.
 *
 * @returns a clock that works each move's profile out once; NaN where the place is not known
 */
export function planClock(plan: Plan): PlanClock {
  const ways = plan.steps.map((_, index) => plannedWay(plan, index));
  return ({ stepIndex, sinceS, rangeM }) => {
    const step = plan.steps[stepIndex];
    if (step === undefined) return Number.NaN;
    let restS = 0;
    for (const later of plan.steps.slice(stepIndex + 1)) restS += later.plannedS;
    if (step.kind === 'hold') return restS + Math.max(0, step.plannedS - sinceS);
    const way = ways[stepIndex] ?? null;
    if (way === null || Number.isNaN(rangeM)) return Number.NaN;
    return restS + plannedLengthS(way) - plannedElapsedS(way, rangeM);
  };
}

/** A rate has to stand this many of its standard deviations above that of a hold to give a time. */
const SURE_OF_RATE = 2;

/** The way left at a moment and the rate at which it gets shorter; axial inwards, in range outwards. */
export type WayLeft = Readonly<{
  leftM: number;
  leftSdM: number;
  rateMps: number;
  rateSdMps: number;
}>;

/** What the time to go by rate leads to: first touch, or outwards the end of the plan's last move, m. */
export type RateGoal = Readonly<
  { kind: 'touch'; axialM: number } | { kind: 'away'; rangeM: number }
>;

/** @param plan without one, the port */
export function rateGoal(plan: Plan | null): RateGoal {
  const last = plan?.steps.findLast((step) => step.kind === 'move');
  return leadsAway(plan) && last?.kind === 'move'
    ? { kind: 'away', rangeM: last.toM }
    : { kind: 'touch', axialM: plan?.contactAxialM ?? 0 };
}

/**
 * Time from here to the goal if the rate stays as it is.
 *
 * @param holdRateMps rate under which the motion is a hold, m/s
 * @returns s with the standard deviation that way and rate give it; null where the way surely does not
 *   get shorter, or is behind
 */
export function timeToGoByRateS(
  { leftM, leftSdM, rateMps, rateSdMps }: WayLeft,
  holdRateMps: number,
): Readonly<{ valueS: number; sdS: number }> | null {
  if (!(rateMps > holdRateMps + SURE_OF_RATE * rateSdMps) || !(leftM >= 0)) return null;
  const valueS = leftM / rateMps;
  return { valueS, sdS: Math.hypot(leftSdM, valueS * rateSdMps) / rateMps };
}
