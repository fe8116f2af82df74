/** How far the flight was from the planned profile, range by range; the ramps by themselves. */
import { lowerBound, profileAt } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';
import { leadsInwards } from '../phases/match-steps';
import { NEXT_TO_PORT_M, profiledRangesM } from '../phases/rate-deviation';
import type { Measured } from '../phases/run-quantities';
import type { MoveStep } from '../session/plan';

/** One run of a move, inwards or outwards. */
export type MovePiece = Readonly<{
  startS: number;
  endS: number;
  rangeStartM: number;
  rangeEndM: number;
}>;

/**
 * `profile` is a stretch of range flown along the profile; `speeding-up` and `braking` are the ramps
 * at a piece's ends, `last-metres` and `first-metres` those next to the port, before it and after it, where
 * range and axial distance part.
 */
export type DeviationPart = 'profile' | 'speeding-up' | 'braking' | 'last-metres' | 'first-metres';

export type RangeDeviation = Readonly<{
  part: DeviationPart;
  piece: number;
  fromM: number;
  toM: number;
  /** First and last row in it, s. */
  fromS: number;
  toS: number;
  /** Time of rows with a rate in it, s. */
  seenS: number;
  plannedMps: number;
  meanMps: Measured;
  deviationMps: Measured;
  outsideS: number;
}>;

const PARTS_WANTED = 6;

type Stretch = Readonly<{ part: DeviationPart; fromM: number; toM: number }>;

/** Smallest of 1, 2, 5 times a power of ten that cuts the way into at most six parts. */
function roundCutM(wayM: number): number {
  const rough = wayM / PARTS_WANTED;
  const power = 10 ** Math.floor(Math.log10(rough));
  return ([1, 2, 5].find((each) => each * power >= rough) ?? 10) * power;
}

/** Ranges from the far end inwards: both ends, and round ones between that are not next to another. */
function cutsM(farM: number, nearM: number): readonly number[] {
  const cutM = roundCutM(farM - nearM);
  const cuts = [farM];
  for (let at = Math.ceil(farM / cutM - 1) * cutM; at > nearM + cutM * 0.2; at -= cutM) {
    if ((cuts.at(-1) ?? farM) - at >= cutM * 0.2) cuts.push(at);
  }
  return [...cuts, nearM];
}

/** A piece cut at round ranges, from one ramp to the other, in the order flown. */
function stretchesOf(
  piece: MovePiece,
  step: MoveStep,
  accelerationMps2: number,
): readonly Stretch[] {
  const { rangeStartM, rangeEndM } = piece;
  const inwards = leadsInwards(step);
  const profiled = profiledRangesM(step, piece, accelerationMps2);
  const isByPort = Math.min(rangeStartM, rangeEndM) < NEXT_TO_PORT_M;
  // A piece that stops short of its ramp has none at that end.
  const farM = Math.max(profiled.farM, Math.min(rangeStartM, rangeEndM));
  const { nearM } = profiled;
  if (!(farM > nearM)) return [{ part: 'speeding-up', fromM: rangeStartM, toM: rangeEndM }];
  const cuts = inwards ? cutsM(farM, nearM) : [...cutsM(farM, nearM)].reverse();
  const firstM = inwards ? farM : nearM;
  const lastM = inwards ? nearM : farM;
  return [
    {
      part: isByPort && !inwards ? 'first-metres' : 'speeding-up',
      fromM: rangeStartM,
      toM: firstM,
    },
    ...cuts.slice(1).map((toM, index): Stretch => {
      return { part: 'profile', fromM: cuts[index] ?? toM, toM };
    }),
    { part: isByPort && inwards ? 'last-metres' : 'braking', fromM: lastM, toM: rangeEndM },
  ];
}

type Sums = {
  s: number;
  rate: number;
  planned: number;
  noise: number;
  outside: number;
  fromS: number;
  toS: number;
};

function isIn({ fromM, toM }: Stretch, rangeM: number): boolean {
  return fromM > toM ? rangeM <= fromM && rangeM > toM : rangeM >= fromM && rangeM < toM;
}

/** Rows of a piece as the mean of neighbours over time, added up by the stretch of range they lie in. */
function sumRows(
  motion: MotionEstimate,
  step: MoveStep,
  rows: Readonly<{ from: number; to: number }>,
  stretches: readonly Stretch[],
): readonly Sums[] {
  const all = stretches.map(
    (): Sums => ({ s: 0, rate: 0, planned: 0, noise: 0, outside: 0, fromS: Number.NaN, toS: 0 }),
  );
  let near = 0;
  for (const span of motion.stretches) {
    const first = Math.max(span.from, rows.from) + 1;
    for (let row = first; row < Math.min(span.to, rows.to); row++) {
      const rangeM =
        ((motion.rangeM[row - 1] ?? Number.NaN) + (motion.rangeM[row] ?? Number.NaN)) / 2;
      const last = stretches[near];
      // Neighbouring rows lie in one stretch nearly always.
      if (last === undefined || !isIn(last, rangeM))
        near = stretches.findIndex((stretch) => isIn(stretch, rangeM));
      const sums = all[near];
      const rate =
        ((motion.closingMps[row - 1] ?? Number.NaN) + (motion.closingMps[row] ?? Number.NaN)) / 2;
      if (sums === undefined || Number.isNaN(rate)) continue;
      const planned = profileAt(step.closingRateMps, rangeM);
      const stepS = (motion.tS[row] ?? 0) - (motion.tS[row - 1] ?? 0);
      const sd = motion.closingSdMps[row] ?? 0;
      sums.s += stepS;
      sums.rate += stepS * rate;
      sums.planned += stepS * planned;
      sums.noise += stepS * sd * sd;
      if (Math.abs(rate - planned) > step.toleranceMps) sums.outside += stepS;
      if (Number.isNaN(sums.fromS)) sums.fromS = motion.tS[row - 1] ?? Number.NaN;
      sums.toS = motion.tS[row] ?? Number.NaN;
    }
  }
  return all;
}

/**
 * Closing rate against the planned profile over stretches of range, in the order flown.
 *
 * Means are over time. The half-width counts errors of the rate that hang together over the span of
 * its fit as one.
 *
 * @param pieces the runs of one move, closing or opening as it leads
 * @returns stretches between round ranges; each piece's ramps and the 3 m next to the port stand
 *   apart; rates are closing rates, negative outwards. A stretch without a row is left out
 */
export function deviationByRange(
  motion: MotionEstimate,
  pieces: readonly MovePiece[],
  step: MoveStep,
  accelerationMps2: number,
): readonly RangeDeviation[] {
  return pieces.flatMap((piece, index) => {
    const from = lowerBound(motion.tS, piece.startS);
    const to = lowerBound(motion.tS, piece.endS + 1e-9);
    const stretches = stretchesOf(piece, step, accelerationMps2);
    const all = sumRows(motion, step, { from, to }, stretches);
    return stretches.flatMap((stretch, place): RangeDeviation[] => {
      const sums = all[place];
      if (sums === undefined || sums.s === 0) return [];
      const share = Math.min(1, motion.rateSpanS / sums.s);
      const half = NORMAL_95 * Math.sqrt((sums.noise / sums.s) * share);
      return [
        {
          ...stretch,
          piece: index + 1,
          fromS: sums.fromS,
          toS: sums.toS,
          seenS: sums.s,
          plannedMps: sums.planned / sums.s,
          meanMps: { value: sums.rate / sums.s, half },
          deviationMps: { value: (sums.rate - sums.planned) / sums.s, half },
          outsideS: sums.outside,
        },
      ];
    });
  });
}
