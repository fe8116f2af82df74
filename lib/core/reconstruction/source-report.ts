/** Each source of a session, and what its clock rests on. */
import type { HumanLag } from '../clock/clock-solution';
import type { ClockTie } from '../clock/clock-tie';
import type { Figure } from '../figure';

export type ClockFit = Readonly<{
  offsetS: Figure;
  driftPpm: Figure;
  residualRmsS: number | null;
  tiePointsUsed: number;
  tiePointsRejected: number;
  reason: string | null;
  /** What the clock rests on; null where it was stated and nothing can be held against it. */
  evidence: ClockFitEvidence | null;
}>;

/**
 * What a source's clock rests on, for a screen that shows log and telemetry side by side.
 *
 * `basis` is how the clock came about: `given` (then `ties` only stand beside it, none used),
 * `tie-points`, or `callouts`. `rangeBiasM` is said minus measured range, fitted with the clock;
 * null where no range was used. `residualRmsBeforeS` is over the tie points used (all of them
 * beside a given clock) with the source's own time read as session time; `residualRmsAfterS` with
 * the clock. `ties` are in the order of the source's time.
 */
export type ClockFitEvidence = Readonly<{
  basis: 'given' | 'tie-points' | 'callouts';
  lag: HumanLag | null;
  rangeBiasM: Figure | null;
  residualRmsBeforeS: number | null;
  residualRmsAfterS: number | null;
  outlierRule: string;
  ties: readonly ClockTie[];
}>;

export type SourceReport = Readonly<{
  file: string;
  sha256: string;
  type: 'telemetry' | 'events' | 'ephemeris';
  rowsRead: number;
  rowsRejected: number;
  clock: ClockFit;
  /** First and last row or entry on session time; null for an empty source. */
  coverage: readonly [fromS: number, toS: number] | null;
}>;
