/** Time to go at the rate of a moment, as a figure. */
import { type RateGoal, rateGoal, timeToGoByRateS, type WayLeft } from '../approach/time-to-go';
import type { Figure } from '../figure';
import { NORMAL_95 } from '../math/statistics';
import type { MotionColumn } from '../motion/motion-estimate';
import type { Plan } from '../session/plan';
import type { FigureParts } from './figure-of';

/** The motion at one moment, and figures made of it. */
export type MomentReader = Readonly<{
  at: (column: MotionColumn) => number;
  figure: (parts: FigureParts) => Figure;
  /** What people set of this moment. */
  people: readonly string[];
}>;

type Motion = Pick<MomentReader, 'at' | 'figure'>;

function wayLeft(goal: RateGoal, { at }: Motion): WayLeft {
  if (goal.kind === 'away') {
    return {
      leftM: goal.rangeM - at('rangeM'),
      leftSdM: at('rangeSdM'),
      rateMps: -at('closingMps'),
      rateSdMps: at('closingSdMps'),
    };
  }
  return {
    leftM: at('axialM') - goal.axialM,
    leftSdM: at('axialSdM'),
    rateMps: at('axialClosingMps'),
    rateSdMps: at('axialClosingSdMps'),
  };
}

/**
 * Time to first touch, or outwards to the end of the plan's last move, if the rate stays as it is.
 *
 * @param plan without one the port is the goal, and any rate above its noise counts
 * @returns s; null where the vehicle does not surely come nearer to the goal, or has passed it
 */
export function toGoByRate(plan: Plan | null, moment: Motion): Figure | null {
  const goal = rateGoal(plan);
  const found = timeToGoByRateS(wayLeft(goal, moment), plan?.holdRateMps ?? 0);
  if (found === null) return null;
  return moment.figure({
    value: found.valueS,
    unit: 's',
    random: NORMAL_95 * found.sdS,
    method:
      goal.kind === 'touch'
        ? 'Axial distance left to first touch over the axial closing rate of this moment, where that is surely above the hold rate.'
        : `Range left to the ${goal.rangeM} m at which the last planned move ends over the opening rate of this moment, where that is surely above the hold rate.`,
  });
}
