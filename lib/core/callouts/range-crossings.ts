/** When a measured range took a value. */
import { GAP_STEPS } from '../series/faults';

/** The estimated range over session time: `tS` ascending, NaN where there is none. */
export type RangeTrack = Readonly<{ tS: Float64Array; rangeM: Float64Array }>;

/** Slower than this the time of a crossing says little: 0.4 s of lag is under 1 cm. */
const LEAST_RATE_MPS = 0.02;
/** Crossings this close are one, made several by noise. */
const MERGE_S = 5;

function medianStepS(tS: Float64Array): number {
  const count = Math.min(tS.length - 1, 2000);
  const steps = Float64Array.from(
    { length: Math.max(count, 0) },
    (_, index) => (tS[index + 1] ?? 0) - (tS[index] ?? 0),
  );
  steps.sort();
  return steps[Math.floor(steps.length / 2)] ?? 0;
}

/** Index of the first sample at or after a time. */
function firstAt(tS: Float64Array, timeS: number): number {
  let low = 0;
  let high = tS.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((tS[middle] ?? 0) < timeS) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Rate of the range (m/s) over a second to either side of a time; NaN where it is not known. */
function rateAround({ tS, rangeM }: RangeTrack, timeS: number, stepS: number): number {
  const reachS = Math.max(1, stepS);
  const before = Math.max(0, firstAt(tS, timeS - reachS) - 1);
  const after = Math.min(tS.length - 1, firstAt(tS, timeS + reachS));
  const spanS = (tS[after] ?? 0) - (tS[before] ?? 0);
  return spanS > 0 ? ((rangeM[after] ?? NaN) - (rangeM[before] ?? NaN)) / spanS : NaN;
}

/**
 * The times at which the range took a value while it moved at 2 cm/s or more.
 *
 * Any number of crossings, either direction, linear between rows; crossings within 5 s are one, at
 * their mean; none inside a gap (a step longer than five median steps).
 *
 * @param track the estimated range, not the single samples: noise makes crossings
 * @param valueM the range looked for, m
 * @returns session times, s, ascending; empty where the range never took the value
 */
export function findCrossings(track: RangeTrack, valueM: number): readonly number[] {
  const { tS, rangeM } = track;
  const stepS = medianStepS(tS);
  const groups: { sumS: number; count: number; lastS: number }[] = [];
  for (let index = 1; index < tS.length; index += 1) {
    const before = (rangeM[index - 1] ?? NaN) - valueM;
    const after = (rangeM[index] ?? NaN) - valueM;
    if (!(before * after <= 0) || after === before) continue;
    const startS = tS[index - 1] ?? NaN;
    const widthS = (tS[index] ?? NaN) - startS;
    if (widthS > GAP_STEPS * stepS) continue;
    const timeS = startS + (widthS * before) / (before - after);
    if (!(Math.abs(rateAround(track, timeS, stepS)) >= LEAST_RATE_MPS)) continue;
    const group = groups.at(-1);
    if (group !== undefined && timeS - group.lastS <= MERGE_S) {
      group.sumS += timeS;
      group.count += 1;
      group.lastS = timeS;
    } else groups.push({ sumS: timeS, count: 1, lastS: timeS });
  }
  return groups.map((group) => group.sumS / group.count);
}
