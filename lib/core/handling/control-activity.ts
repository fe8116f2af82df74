/** How a hand controller was moved. */
import type { PowerSpectrum } from '../math/power-spectrum';

/**
 * Share of the samples at which the deflection changed, and the root mean square change.
 *
 * Two denominators are in use for the share: `duty` is over all samples, `dutyOfChanges` over the pairs
 * of neighbours. Neither is a measure of workload.
 */
export type ControlActivity = Readonly<{
  changes: number;
  duty: number;
  dutyOfChanges: number;
  /** Unit of the deflection, a sample. */
  aggressiveness: number;
}>;

/**
 * @param deflection evenly sampled, without NaN
 * @param threshold a change no larger than this is none
 * @returns all NaN for fewer than two samples
 *
 * Source: C. Niewind, DLR IB 111-2012/74, equations 3, 4 and 6 (as used in published evaluations).
 */
export function controlActivity(deflection: Float64Array, threshold: number): ControlActivity {
  const pairs = deflection.length - 1;
  let changes = 0;
  let squares = 0;
  deflection.forEach((value, row) => {
    const before = deflection[row - 1];
    if (before === undefined) return;
    if (Math.abs(value - before) > threshold) changes++;
    squares += (value - before) ** 2;
  });
  if (pairs < 1) {
    return { changes: 0, duty: Number.NaN, dutyOfChanges: Number.NaN, aggressiveness: Number.NaN };
  }
  return {
    changes,
    duty: changes / deflection.length,
    dutyOfChanges: changes / pairs,
    aggressiveness: Math.sqrt(squares / pairs),
  };
}

/**
 * Frequency below which half of an input's power lies (root mean square ratio 0.707). It says how fast
 * a hand moved, not how hard the work was: ratings scatter widely about it.
 *
 * The density is taken as constant within half a step of each frequency.
 *
 * @returns Hz; NaN where there is no power
 *
 * Source: C. L. Blanken, H.-J. Pausder, "Investigation of the effects of bandwidth and time delay on
 * helicopter roll-axis handling qualities", J. American Helicopter Society 39 (1994); formula from memory.
 */
export function cutOffFrequencyHz({ frequencyHz, powerPerHz }: PowerSpectrum): number {
  const stepHz = (frequencyHz[1] ?? Number.NaN) - (frequencyHz[0] ?? Number.NaN);
  // The cells of the first and the last frequency are half as wide.
  const last = powerPerHz.length - 1;
  const power = powerPerHz.map((each, k) => each * stepHz * (k === 0 || k === last ? 0.5 : 1));
  const total = power.reduce((sum, each) => sum + each, 0);
  if (!(total > 0)) return Number.NaN;
  let below = 0;
  for (const [k, each] of power.entries()) {
    if (below + each < total / 2) {
      below += each;
      continue;
    }
    const low = k === 0 ? 0 : (frequencyHz[k] ?? 0) - stepHz / 2;
    const width = k === 0 || k === last ? stepHz / 2 : stepHz;
    return low + (width * (total / 2 - below)) / each;
  }
  return Number.NaN;
}
