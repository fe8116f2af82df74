/** When a measured range took a value, and how fast it passed. */
import { GAP_STEPS } from '../series/faults';

/** The estimated range over session time: `tS` ascending, NaN where there is none. */
export type RangeTrack = Readonly<{ tS: Float64Array; rangeM: Float64Array }>;

/** One pass: the session time (s) and the closing rate there (m/s, negative while opening). */
export type RangePass = Readonly<{ timeS: number; closingMps: number }>;

/** Slower than this the time of a crossing says little: 0.4 s of lag is under 1 cm. */
const LEAST_RATE_MPS = 0.02;
/** The rate of a pass is taken over this time to either side, s. */
const RATE_REACH_S = 3;
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

/** Rate of the range (m/s) about a row, over `RATE_REACH_S` to either side; NaN where not known. */
function rateAround({ tS, rangeM }: RangeTrack, row: number): number {
  const atS = tS[row] ?? NaN;
  let before = row;
  while (before > 0 && atS - (tS[before] ?? atS) < RATE_REACH_S) before -= 1;
  let after = row;
  while (after < tS.length - 1 && (tS[after] ?? atS) - atS < RATE_REACH_S) after += 1;
  const spanS = (tS[after] ?? 0) - (tS[before] ?? 0);
  return spanS > 0 ? ((rangeM[after] ?? NaN) - (rangeM[before] ?? NaN)) / spanS : NaN;
}

/** Looks up the passes of a track through a value (m), in the order of time. */
export type FindPasses = (valueM: number) => readonly RangePass[];

/**
 * A look-up of the passes of the range through a value, at 2 cm/s or more.
 *
 * Any number of them, either direction, linear between rows; crossings within 5 s are one, at their
 * mean; none inside a gap (a step longer than five median steps).
 *
 * @param track the estimated range, not the single samples: noise makes crossings
 * @returns a function from the range looked for (m) to its passes; none where it was never taken
 */
export function makePassFinder(track: RangeTrack): FindPasses {
  const longestS = GAP_STEPS * medianStepS(track.tS);
  return (valueM) => mergeClose([...rowPasses(track, valueM, longestS)]);
}

function* rowPasses(track: RangeTrack, valueM: number, longestS: number): Generator<RangePass> {
  const { tS, rangeM } = track;
  let before = (rangeM[0] ?? NaN) - valueM;
  for (let row = 1; row < tS.length; row += 1) {
    const here = (rangeM[row] ?? NaN) - valueM;
    const last = before;
    before = here;
    if (!(last * here <= 0) || here === last) continue;
    const startS = tS[row - 1] ?? NaN;
    const widthS = (tS[row] ?? NaN) - startS;
    if (widthS > longestS) continue;
    const rateMps = rateAround(track, row);
    if (!(Math.abs(rateMps) >= LEAST_RATE_MPS)) continue;
    yield { timeS: startS + (widthS * last) / (last - here), closingMps: -rateMps };
  }
}

/** Passes within `MERGE_S` of the one before as one, at their mean, with the first one's rate. */
function mergeClose(passes: readonly RangePass[]): readonly RangePass[] {
  const groups: { sumS: number; count: number; lastS: number; closingMps: number }[] = [];
  for (const { timeS, closingMps } of passes) {
    const group = groups.at(-1);
    if (group !== undefined && timeS - group.lastS <= MERGE_S) {
      group.sumS += timeS;
      group.count += 1;
      group.lastS = timeS;
    } else groups.push({ sumS: timeS, count: 1, lastS: timeS, closingMps });
  }
  return groups.map(({ sumS, count, closingMps }) => ({ timeS: sumS / count, closingMps }));
}
