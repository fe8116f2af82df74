/** The clock of a fit: which terms are kept, how well they are known, and why. */
import type { ClockEvidence, ClockSolution } from '../clock/clock-solution';
import type { ClockTie } from '../clock/clock-tie';
import { likelyDrift, student975 } from '../clock/error-scale';
import { smallDriftReason } from '../clock/solve-clock';
import { type ClockEstimate, fitWeightedClock } from '../clock/weighted-clock';
import { mixtureHalfWidth } from '../math/normal-mixture';
import { NORMAL_95 } from '../math/statistics';
import type { AlignOptions } from './clock-words';
import { OUTLIER_RULE, tellsDrift, type WordsFit } from './fit-words';
import { type KeptClock, rejectedTies, unmetTies, usedTies } from './word-ties';

const PPM = 1e-6;
/** With fewer the scatter is the supposed one, which is not taken from the words. */
const LEAST_DEGREES = 3;

/**
 * A fit that was not taken, with the weight it still has; its bias is the whole one. `withoutDrift`
 * is the same words fitted with the drift taken as 0.
 */
export type OtherFit = Readonly<{
  weight: number;
  estimate: ClockEstimate;
  withoutDrift: ClockEstimate | null;
  used: number;
}>;

/** A fit of words with the range bias at which their passes were looked up, m. */
export type FoundFit = Readonly<{ fit: WordsFit; lookedUpAtM: number; other: OtherFit | null }>;

/** Offset, drift and bias. */
type Term = 0 | 1 | 2;

const TERMS = [
  (estimate: ClockEstimate) => estimate.offsetS,
  (estimate: ClockEstimate) => estimate.drift,
  (estimate: ClockEstimate) => estimate.biasM,
] as const;

/**
 * Standard error of one of offset, drift and bias (0, 1, 2), widened where residuals are larger
 * than supposed and, by Student's t, where few words tell how large they are.
 */
export function standardError(estimate: ClockEstimate, term: Term, count: number): number {
  const unknowns = (estimate.covariance[1]?.[1] ?? 0) > 0 ? 3 : 2;
  const degrees = count + 1 - unknowns;
  // Birge's ratio, never under 1: the lag's scatter is stated, luck does not shrink it.
  const ratio = degrees > 0 ? Math.max(1, estimate.misfit / degrees) : 1;
  const student = degrees >= LEAST_DEGREES ? student975(degrees) / NORMAL_95 : 1;
  return student * Math.sqrt((estimate.covariance[term]?.[term] ?? 0) * ratio);
}

/**
 * Standard error of the offset or the bias. Where the drift is taken as 0 the one that may be there
 * is in it: the term fitted without it stands in for a part of it.
 */
function termError(
  full: ClockEstimate,
  kept: ClockEstimate,
  term: Term,
  about: Readonly<{ isDriftKept: boolean; count: number }>,
): number {
  const error = standardError(kept, term, about.count);
  const driftVariance = full.covariance[1]?.[1] ?? 0;
  if (about.isDriftKept || driftVariance === 0) return error;
  const perDrift = (full.covariance[term]?.[1] ?? 0) / driftVariance;
  return Math.hypot(error, perDrift * likelyDrift(standardError(full, 1, about.count)));
}

/** Error of the fit taken, as wide as 95 % of what both say by their weights asks for. */
function errorBesideOther(errorTaken: number, apart: number, other: OtherFit, sd: number): number {
  const { weight } = other;
  return (
    mixtureHalfWidth([
      { weight: 1 - weight, apart: 0, sd: errorTaken },
      { weight, apart, sd },
    ]) / NORMAL_95
  );
}

/** Standard error of the offset or the bias, with what the fit that was not taken says of it. */
function keptError({ fit, other }: FoundFit, kept: KeptClock, drift: Drift, term: 0 | 2): number {
  const isDriftKept = drift.isKept;
  const error = termError(fit.estimate, kept.estimate, term, {
    isDriftKept,
    count: fit.used.length,
  });
  if (other === null) return error;
  const beside = isDriftKept ? other.estimate : (other.withoutDrift ?? other.estimate);
  const apart = TERMS[term](beside) - TERMS[term](kept.estimate);
  const sd = termError(other.estimate, beside, term, { isDriftKept, count: other.used });
  return errorBesideOther(error, apart, other, sd);
}

/** `errorPpm` is the standard error of the drift reported, which is 0 where it is not kept. */
type Drift = Readonly<{ isKept: boolean; errorPpm: number | null; reason: string | null }>;

function driftError({ fit, other }: FoundFit, ownError: number): number {
  if (other === null) return ownError;
  const apart = other.estimate.drift - fit.estimate.drift;
  return errorBesideOther(ownError, apart, other, standardError(other.estimate, 1, other.used));
}

function judgeDrift(found: FoundFit): Drift {
  const { estimate, used } = found.fit;
  if (!tellsDrift(used.map(({ matched }) => matched))) {
    const reason = 'fewer than three tie points apart in time agree; the drift is taken as 0';
    return { isKept: false, errorPpm: null, reason };
  }
  // Whether a drift is there is asked of the fit taken; how far it is wrong, of both.
  const ownError = standardError(estimate, 1, used.length);
  const errorPpm = driftError(found, ownError) / PPM;
  if (Math.abs(estimate.drift) >= 2 * ownError) return { isKept: true, errorPpm, reason: null };
  // Taken as 0 it is wrong by what was found and by the error of that.
  const aboutZeroPpm = Math.hypot(errorPpm, estimate.drift / PPM);
  return {
    isKept: false,
    errorPpm: aboutZeroPpm,
    reason: smallDriftReason(estimate.drift, ownError),
  };
}

function keepClock(fit: WordsFit, isDriftKept: boolean): KeptClock | null {
  const { observations } = fit;
  const estimate = isDriftKept
    ? fit.estimate
    : fitWeightedClock(observations, fit.prior, 'offset-only');
  if (estimate === null) return null;
  const terms = { offsetS: estimate.offsetS, driftPpm: isDriftKept ? estimate.drift / PPM : 0 };
  return { terms, estimate, observations };
}

function rms(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  if (known.length === 0) return null;
  return Math.sqrt(known.reduce((sum, value) => sum + value * value, 0) / known.length);
}

/** Why the fit is less than it might be; null where nothing is to be said. */
function remarks(
  found: FoundFit,
  counts: Readonly<{ used: number; rejected: number }>,
  supposedSdM: number,
): string[] {
  const said: string[] = [];
  if (counts.rejected > counts.used) {
    const all = counts.used + counts.rejected;
    said.push(`only ${counts.used} of ${all} tie points agree with this clock`);
  }
  const hasRange = found.fit.used.some(({ matched }) => matched.valueM !== null);
  const { covariance } = found.other?.estimate ?? found.fit.estimate;
  if (hasRange && Math.sqrt(covariance[2]?.[2] ?? 0) > supposedSdM / 2) {
    said.push('too alike in closing rate to tell a range bias from the offset');
  }
  return said;
}

/** Every word in the order of the log. */
function allTies(fit: WordsFit, kept: KeptClock): readonly ClockTie[] {
  return [
    ...usedTies(fit.used, kept),
    ...rejectedTies(fit.rejected, kept),
    ...unmetTies(fit.unmet, kept.terms),
  ].sort((a, b) => a.sourceS - b.sourceS);
}

function evidenceOf(
  ties: readonly ClockTie[],
  bias: Readonly<{ valueM: number; halfM: number }> | null,
  lag: Readonly<{ options: AlignOptions; halfS: number }>,
): ClockEvidence {
  const { lagS, lagSdS, lagMeanSdS } = lag.options;
  return {
    lag: { lagS, lagSdS, lagMeanSdS },
    offsetFromLagS: lag.halfS,
    rangeBiasM: bias?.valueM ?? null,
    rangeBiasUncertaintyM: bias?.halfM ?? null,
    residualBeforeRmsS: rms(ties.filter(({ used }) => used).map((tie) => tie.residualBeforeS)),
    outlierRule: OUTLIER_RULE,
    ties,
  };
}

/**
 * The clock that fitted words give.
 *
 * Where the drift is left out the offset is fitted again without it; its uncertainty still holds
 * the drift that may be there.
 *
 * @param found the fit of all words of the log, the ones without a pass among them
 * @returns the clock with its evidence; null where the equations cannot be solved
 */
export function clockOfWords(found: FoundFit, options: AlignOptions): ClockSolution | null {
  const { fit } = found;
  const drift = judgeDrift(found);
  const kept = keepClock(fit, drift.isKept);
  if (kept === null) return null;
  const count = fit.used.length;
  const isSpoken = fit.used.some(({ word }) => word.lagSdS > 0 && !word.fixed);
  const lagHalfS = isSpoken ? NORMAL_95 * options.lagMeanSdS : 0;
  const hasRange = fit.used.some(({ matched }) => matched.valueM !== null);
  const bias = hasRange
    ? {
        valueM: found.lookedUpAtM + kept.estimate.biasM,
        halfM: NORMAL_95 * keptError(found, kept, drift, 2),
      }
    : null;
  const ties = allTies(fit, kept);
  const rejected = ties.length - count;
  const said = remarks(found, { used: count, rejected }, options.rangeBiasSdM);
  const reasons = [...said, drift.reason].filter((reason) => reason !== null);
  return {
    ...kept.terms,
    offsetUncertaintyS: Math.hypot(NORMAL_95 * keptError(found, kept, drift, 0), lagHalfS),
    driftUncertaintyPpm: drift.errorPpm === null ? null : NORMAL_95 * drift.errorPpm,
    residualRmsS: rms(ties.filter(({ used }) => used).map((tie) => tie.residualS)),
    used: count,
    rejected,
    reason: reasons.length === 0 ? null : reasons.join('; '),
    evidence: evidenceOf(ties, bias, { options, halfS: lagHalfS }),
  };
}
