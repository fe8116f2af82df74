/** Pulsed jets: off, or on for at least a minimum time, within each control step. */

export type JetAxis = Readonly<{
  /** Acceleration while on, in the axis' unit per s2 (m/s2, or deg/s2 for attitude). */
  accel: number;
  /** Shortest time a valve can be open, s. */
  minimumOnS: number;
  /** Propellant used while on, kg/s. */
  flowKgPerS: number;
}>;

export const TRANSLATION_X: JetAxis = { accel: 0.044, minimumOnS: 0.04, flowKgPerS: 0.144 };
export const TRANSLATION_YZ: JetAxis = { accel: 0.011, minimumOnS: 0.04, flowKgPerS: 0.036 };
export const ROTATION: JetAxis = { accel: 0.2, minimumOnS: 0.04, flowKgPerS: 0.018 };

/**
 * On-time that takes out a velocity error within one step.
 *
 * @param wanted change of velocity wanted, signed, in the axis' unit per second
 * @returns signed on-time, s: 0 under half a minimum pulse, else between the minimum and the step
 */
export function pulse(axis: JetAxis, wanted: number, stepS: number): number {
  const onS = Math.abs(wanted) / axis.accel;
  if (onS < axis.minimumOnS / 2) return 0;
  const bounded = Math.min(Math.max(onS, axis.minimumOnS), stepS);
  return wanted < 0 ? -bounded : bounded;
}
