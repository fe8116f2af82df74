/** The clock of each source, with what it rests on, as figures. */
import type { AlignOptions, ClockWord } from '../callouts/clock-words';
import type { RangeTrack } from '../callouts/range-passes';
import { tiesBeside } from '../callouts/ties-beside';
import type { ClockEvidence, ClockSolution } from '../clock/clock-solution';
import type { ClockSpec } from '../clock/clock-spec';
import type { ClockTie } from '../clock/clock-tie';
import { DEFAULT_ALIGNMENT } from '../session/read-time-spec';
import type { SessionSource } from '../session/session-input';
import { figureOf, type Origin } from './figure-of';
import type { ClockFit, ClockFitEvidence } from './source-report';

const CLOCK_METHODS: Readonly<Record<ClockSpec['kind'], string>> = {
  given: 'As stated in the session file.',
  'tie-points':
    'Least squares over the tie points of the session file and those set by hand, these weighed by their standard deviations.',
  callouts:
    'Spoken ranges, calls of contact and points set by hand against the estimated motion: offset, drift and range bias together, weighed by lag and closing rate, outliers left out, the mean human lag taken off.',
};

/** What a clock was found by: tie points set by hand take the place of a given one. */
function basisOf(source: SessionSource, solution: ClockSolution): ClockSpec['kind'] {
  return source.clock.kind === 'given' && solution.used > 0 ? 'tie-points' : source.clock.kind;
}

function rms(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : Math.hypot(...known) / Math.sqrt(known.length);
}

function evidenceOf(
  found: ClockEvidence | null,
  basis: ClockSpec['kind'],
  rmsAfterS: number | null,
  origin: Origin,
): ClockFitEvidence | null {
  if (found === null) return null;
  return {
    basis,
    lag: found.lag,
    rangeBiasM:
      found.rangeBiasM === null
        ? null
        : figureOf(origin, {
            value: found.rangeBiasM,
            unit: 'm',
            random: found.rangeBiasUncertaintyM,
            method: 'Said minus measured range, fitted with the clock, supposed about 0 before.',
          }),
    residualRmsBeforeS: found.residualBeforeRmsS,
    residualRmsAfterS: rmsAfterS,
    outlierRule: found.outlierRule,
    ties: found.ties,
  };
}

/** A clock found or stated, as figures. */
export function clockFit(source: SessionSource, solution: ClockSolution): ClockFit {
  const origin = { sources: [{ file: source.file, sha256: source.sha256 }], channels: [] };
  const basis = basisOf(source, solution);
  const method = CLOCK_METHODS[basis];
  const lagHalfS = solution.evidence?.offsetFromLagS ?? 0;
  const halfS = solution.offsetUncertaintyS;
  return {
    offsetS: figureOf(origin, {
      value: solution.offsetS,
      unit: 's',
      // The mean lag is an assumption: no number of words makes its part smaller.
      random: halfS === null ? null : Math.sqrt(Math.max(0, halfS ** 2 - lagHalfS ** 2)),
      systematic: lagHalfS > 0 ? lagHalfS : null,
      method,
    }),
    driftPpm: figureOf(origin, {
      value: solution.driftPpm,
      unit: 'ppm',
      random: solution.driftUncertaintyPpm,
      method,
    }),
    residualRmsS: solution.residualRmsS,
    tiePointsUsed: solution.used,
    tiePointsRejected: solution.rejected,
    reason: solution.reason,
    evidence: evidenceOf(solution.evidence, basis, solution.residualRmsS, origin),
  };
}

/** Evidence of a stated clock: what is spoken in its log, beside it. */
export function evidenceBeside(
  words: readonly ClockWord[],
  track: RangeTrack,
  solution: ClockSolution,
): ClockFitEvidence | null {
  if (words.length === 0) return null;
  const lag: AlignOptions = DEFAULT_ALIGNMENT;
  const ties: readonly ClockTie[] = tiesBeside(words, track, { terms: solution, lag });
  return {
    basis: 'given',
    lag,
    rangeBiasM: null,
    residualRmsBeforeS: rms(ties.map(({ residualBeforeS }) => residualBeforeS)),
    residualRmsAfterS: rms(ties.map(({ residualS }) => residualS)),
    outlierRule: 'none: nothing is fitted to a clock that was stated',
    ties,
  };
}
