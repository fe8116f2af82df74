/** How a source's own time lies on session time, with how well that is known. */
import type { ClockTerms } from './clock-terms';
import type { ClockTie } from './clock-tie';

/**
 * session = offsetS + source x (1 + driftPpm x 1e-6), both in seconds from zero.
 *
 * Uncertainties are half-widths of the 95 % interval; null where nothing tells them. `used` and
 * `rejected` count tie points (or spoken ranges); `reason` says in words what was left out and why.
 */
export type ClockSolution = Readonly<{
  offsetS: number;
  offsetUncertaintyS: number | null;
  driftPpm: number;
  driftUncertaintyPpm: number | null;
  residualRmsS: number | null;
  used: number;
  rejected: number;
  reason: string | null;
  /** What the fit rests on; null where the clock was stated and nothing can be held against it. */
  evidence: ClockEvidence | null;
}>;

/**
 * What a clock rests on.
 *
 * `rangeBiasM` is said minus measured range, found with the clock (null where no range was used);
 * its uncertainty is the half-width of the 95 % interval. `offsetFromLagS` is the half-width that
 * the assumed mean lag alone puts on the offset. `residualBeforeRmsS` is taken over the tie points
 * used, with the source's own time read as session time.
 */
export type ClockEvidence = Readonly<{
  lag: HumanLag | null;
  offsetFromLagS: number;
  rangeBiasM: number | null;
  rangeBiasUncertaintyM: number | null;
  residualBeforeRmsS: number | null;
  /** The rule by which tie points were rejected, in words. */
  outlierRule: string;
  ties: readonly ClockTie[];
}>;

/**
 * The delay between a moment and the words about it, s: its mean, the standard deviation from word
 * to word, and the standard deviation of the mean itself, which no log of ranges can tell.
 */
export type HumanLag = Readonly<{ lagS: number; lagSdS: number; lagMeanSdS: number }>;

/** A clock that was stated, or could not be found: nothing is known of its uncertainty. */
export function statedClock(terms: ClockTerms, reason: string | null): ClockSolution {
  return {
    ...terms,
    offsetUncertaintyS: null,
    driftUncertaintyPpm: null,
    residualRmsS: null,
    used: 0,
    rejected: 0,
    reason,
    evidence: null,
  };
}
