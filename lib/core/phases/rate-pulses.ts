/** How far a rate goes up and down in the lines that smooth it: jets that brake in pulses make stairs of it. */
import { lowerBound } from '../math/search';
import type { MotionEstimate } from '../motion/motion-estimate';
import type { Samples } from '../series/samples';

/** Rows so long to either side are looked at, s: a little more than the lines of a measured rate take in. */
export const REACH_S = 1.25;
/** Of normal values one in twenty lies over so many deviations. */
const ONE_IN_TWENTY = 1.645;
/** Fewer rows tell nothing beside a line. */
const FEWEST = 6;

/** What values scatter by about a line more than their noise, as a variance; 0 where noise may have made it. */
function beyondNoise({ tS, values, sd }: Samples, atS: number): number {
  const from = lowerBound(tS, atS - REACH_S);
  const n = lowerBound(tS, atS + REACH_S) - from;
  if (n < FEWEST) return 0;
  let [t, v, noise] = [0, 0, 0];
  for (let i = from; i < from + n; i++) {
    t += ((tS[i] ?? 0) - atS) / n;
    v += (values[i] ?? 0) / n;
    noise += (sd[i] ?? 0) ** 2 / n;
  }
  let [tt, tv, vv] = [0, 0, 0];
  for (let i = from; i < from + n; i++) {
    const [dt, dv] = [(tS[i] ?? 0) - atS - t, (values[i] ?? 0) - v];
    tt += dt * dt;
    tv += dt * dv;
    vv += dv * dv;
  }
  const scatter = (vv - (tv * tv) / tt) / (n - 2);
  const mostByNoise = noise * (1 + ONE_IN_TWENTY * Math.sqrt(2 / (n - 2)));
  return scatter > mostByNoise ? scatter - noise : 0;
}

/**
 * How far a measured rate may lie from the lines that smooth it at an instant, beside its noise, m/s.
 *
 * @returns half the height of the stairs, as of a value spread evenly between; 0 where noise may have made all of it
 *
 * Source: elementary; the variance of an even spread, and of a mean square of normal values.
 */
export function pulseHalfMps(motion: MotionEstimate, atS: number): number {
  if (motion.rateIsDerived) return 0;
  const row = Math.min(motion.tS.length - 1, lowerBound(motion.tS, atS));
  const rates = motion.channels.filter((_, k) => k % 2 === 1);
  const places = [motion.axialM, motion.yM, motion.zM];
  let variance = 0;
  rates.forEach((name, k) => {
    const samples = motion.samples.get(name);
    if (samples === undefined) return;
    const share = rates.length === 1 ? 1 : (places[k]?.[row] ?? 0) / (motion.rangeM[row] ?? 1);
    variance += share * share * beyondNoise(samples, atS);
  });
  return Math.sqrt(3 * variance);
}
