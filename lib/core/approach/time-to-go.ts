/** Time left to contact: as the plan has it from here, and at the rate of this moment. */
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

export type AxialPlace = Readonly<{
  axialM: number;
  axialSdM: number;
  closingMps: number;
  closingSdMps: number;
}>;

/**
 * Time from here to first touch if the axial rate stays as it is.
 *
 * @param about axial distance of first touch, m, and the rate under which the motion is a hold, m/s
 * @returns s with the standard deviation that distance and rate give it; null where the vehicle is
 *   not surely closing
 */
export function timeToGoByRateS(
  place: AxialPlace,
  about: Readonly<{ contactAxialM: number; holdRateMps: number }>,
): Readonly<{ valueS: number; sdS: number }> | null {
  const { closingMps, closingSdMps } = place;
  const leftM = place.axialM - about.contactAxialM;
  if (!(closingMps > about.holdRateMps + SURE_OF_RATE * closingSdMps) || !(leftM >= 0)) return null;
  const valueS = leftM / closingMps;
  const sdS = Math.hypot(place.axialSdM, valueS * closingSdMps) / closingMps;
  return { valueS, sdS };
}
