/** Attitude about one axis as a limit cycle: coast across a dead band, one pulse at its edge. */
import { pulse, ROTATION } from './jets';
import type { RandomSource } from './random';

export type AttitudeAxis = Readonly<{ errorDeg: number; rateDps: number }>;

export type AttitudeStep = Readonly<{
  deadBandDeg: number;
  /** Steady angular acceleration by gradients of gravity and the like, deg/s2. */
  disturbanceDps2: number;
  /** Angular acceleration by translation jets that do not act through the centre of mass, deg/s2. */
  couplingDps2: number;
  stepS: number;
}>;

/** Rate with which an edge of the dead band is left, deg/s. */
const RETURN_RATE_DPS = 0.012;

/** One step of one axis; `onS` is the time the rotation jets were on. */
export function stepAttitude(
  axis: AttitudeAxis,
  step: AttitudeStep,
  random: RandomSource,
): Readonly<{ axis: AttitudeAxis; onS: number }> {
  const ahead = axis.errorDeg + 2 * axis.rateDps;
  let jetOnS = 0;
  if (ahead > step.deadBandDeg && axis.rateDps > -RETURN_RATE_DPS / 2) {
    jetOnS = pulse(
      ROTATION,
      -RETURN_RATE_DPS * (0.7 + 0.6 * random.uniform()) - axis.rateDps,
      step.stepS,
    );
  } else if (ahead < -step.deadBandDeg && axis.rateDps < RETURN_RATE_DPS / 2) {
    jetOnS = pulse(
      ROTATION,
      RETURN_RATE_DPS * (0.7 + 0.6 * random.uniform()) - axis.rateDps,
      step.stepS,
    );
  }
  const accel = step.disturbanceDps2 + step.couplingDps2 + (ROTATION.accel * jetOnS) / step.stepS;
  return {
    axis: {
      errorDeg: axis.errorDeg + axis.rateDps * step.stepS + (accel * step.stepS * step.stepS) / 2,
      rateDps: axis.rateDps + accel * step.stepS,
    },
    onS: Math.abs(jetOnS),
  };
}
