/** The drawing in of the capture ring, read from the axial distance. */
import { lowerBound } from '../math/search';
import { median, NORMAL_95 } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';

export type RingRetraction = Readonly<{
  startS: number;
  endS: number;
  /** Half-width of the 95 % interval of either, s. */
  halfS: number;
  /** Axial distance before and after, m. */
  fromM: number;
  toM: number;
}>;

/** Time over which the axial distance at rest is taken, s. */
const REST_S = 20;
/** A smaller change of the axial distance is none, m. */
const LEAST_M = 0.02;

function level(motion: MotionEstimate, fromS: number, toS: number): number {
  const from = lowerBound(motion.tS, fromS);
  const to = lowerBound(motion.tS, toS + 1e-9);
  const values = [...motion.axialM.subarray(from, to)].filter((value) => !Number.isNaN(value));
  return values.length < 3 ? Number.NaN : median(values);
}

/**
 * Finds the start and the end of the drawing in: the straight line through 10 % and 90 % of the way
 * from the axial distance at rest before to that after, carried on to 0 % and 100 %.
 *
 * @param motion the estimated motion
 * @param settledS from here on the vehicle rests on the ring, s
 * @returns `null` where the axial distance does not change by 2 cm and six of its standard deviations,
 *   or data are missing
 *
 * Valid: a ring that draws in at a steady rate; a start or stop that is soft lies outside the line.
 * Source: levels of 10 % and 90 % for the ends of a transition are common practice, no source.
 */
export function findRetraction(motion: MotionEstimate, settledS: number): RingRetraction | null {
  const { tS, axialM } = motion;
  const lastS = tS[tS.length - 1] ?? Number.NaN;
  if (!(lastS - settledS > 2 * REST_S)) return null;
  const fromM = level(motion, settledS, settledS + REST_S);
  const toM = level(motion, lastS - REST_S, lastS);
  const wayM = fromM - toM;
  const from = lowerBound(tS, settledS);
  const sdM = motion.axialSdM[from] ?? 0;
  if (!(wayM > LEAST_M && wayM > 6 * sdM)) return null;
  let left = from;
  for (let row = from; row < tS.length; row++) {
    const share = (fromM - (axialM[row] ?? Number.NaN)) / wayM;
    if (share >= 0.9) {
      const tenthS = crossingS(motion, left, fromM - 0.1 * wayM);
      const nineS = crossingS(motion, row - 1, fromM - 0.9 * wayM);
      const rampS = nineS - tenthS;
      const slope = (0.8 * wayM) / rampS;
      return {
        startS: tenthS - rampS / 8,
        endS: nineS + rampS / 8,
        halfS: Math.hypot((NORMAL_95 * sdM) / slope, 0.475 * motion.stepS),
        fromM,
        toM,
      };
    }
    if (share <= 0.1) left = row;
  }
  return null;
}

/** Where the axial distance falls through a level after a row, s. */
function crossingS({ tS, axialM }: MotionEstimate, row: number, levelM: number): number {
  const here = axialM[row] ?? Number.NaN;
  const next = axialM[row + 1] ?? Number.NaN;
  const hereS = tS[row] ?? Number.NaN;
  if (!(here > next)) return hereS;
  return hereS + ((here - levelM) / (here - next)) * ((tS[row + 1] ?? hereS) - hereS);
}
