/** A log's clock from what is spoken in it, against the measured range. */
import { type ClockSolution, statedClock } from '../clock/clock-solution';
import { fitWeightedClock } from '../clock/weighted-clock';
import { type AlignOptions, type ClockWord, candidatesOf } from './clock-words';
import { fitWords, OUTLIER_RULE } from './fit-words';
import { findConsensus, LARGEST_DRIFT } from './match-words';
import { type FindPasses, makePassFinder, type RangeTrack } from './range-passes';
import { clockOfWords, type FoundFit, type OtherFit, standardError } from './word-clock';
import { leftOutTies, unmetTies } from './word-ties';

/** The passes are looked up again at the range less the bias, until it moves by less than this. */
const BIAS_SETTLED_M = 0.01;
const LOOK_UPS = 3;

/** Two instruments that measure between the same points differ by so much (1 sd, our own choice), m. */
const SAME_POINTS_SD_M = 0.02;
/** Odds from which evidence is called positive: Kass and Raftery, J. Amer. Statist. Assoc. 90 (1995) 773. */
const POSITIVE_ODDS = 3;

/** Words with the passes of the range they name less the bias. */
function withPasses(
  words: readonly ClockWord[],
  findPasses: FindPasses,
  shift: Readonly<{ lagS: number; biasM: number }>,
): readonly ClockWord[] {
  const known = new Map<number, ClockWord['candidates']>();
  return words.map((word) => {
    if (word.valueM === null) return word;
    const valueM = word.valueM - shift.biasM;
    const candidates = known.get(valueM) ?? candidatesOf(findPasses(valueM), shift.lagS);
    known.set(valueM, candidates);
    return { ...word, candidates };
  });
}

/**
 * How many times likelier the words are with no range bias than with one of the supposed spread: the
 * density of the fitted bias at 0 over that of the supposed one there.
 *
 * Source: Dickey, Ann. Math. Statist. 42 (1971) 204 (the Savage-Dickey ratio).
 */
function oddsOfNoBias(biasM: number, errorM: number, supposedSdM: number): number {
  return (supposedSdM / errorM) * Math.exp(-0.5 * (biasM / errorM) ** 2);
}

/**
 * The fit to believe: the one with a range bias where the words themselves speak for one with odds
 * of 3 to 1 and more, else the one without.
 *
 * A clock is an offset and a drift. A bias and a drift look alike where slow words come last, so a
 * bias left free makes the drift of a log without one worth nothing; where the words leave it open
 * the simpler fit is taken. What the fit with a bias says keeps its weight in the errors.
 */
function chooseFit(first: readonly ClockWord[], found: FoundFit, options: AlignOptions): FoundFit {
  const { fit, lookedUpAtM } = found;
  const { offsetS, drift, biasM } = fit.estimate;
  const totalM = lookedUpAtM + biasM;
  const errorM = standardError(fit.estimate, 2, fit.used.length);
  const odds = oddsOfNoBias(totalM, errorM, options.rangeBiasSdM);
  if (odds * POSITIVE_ODDS < 1) return found;
  const prior = { meanM: 0, sdM: Math.min(SAME_POINTS_SD_M, options.rangeBiasSdM) };
  const without = fitWords(first, { offsetS, drift, biasM: 0 }, prior);
  if (without === null) return found;
  const bare = fitWeightedClock(fit.observations, fit.prior, 'offset-only');
  const other: OtherFit = {
    weight: 1 / (1 + odds),
    estimate: { ...fit.estimate, biasM: totalM },
    withoutDrift: bare === null ? null : { ...bare, biasM: lookedUpAtM + bare.biasM },
    used: fit.used.length,
  };
  return { fit: without, lookedUpAtM: 0, other };
}

/** The fit with the range bias at which its passes were looked up. */
function findFit(
  words: readonly ClockWord[],
  findPasses: FindPasses,
  options: AlignOptions,
): FoundFit | null {
  const first = withPasses(words, findPasses, { lagS: options.lagS, biasM: 0 });
  const start = findConsensus(first);
  if (start === null) return null;
  const prior = (meanM: number) => ({ meanM, sdM: options.rangeBiasSdM });
  let fit = fitWords(first, start, prior(0));
  let lookedUpAtM = 0;
  for (let round = 0; fit !== null && round < LOOK_UPS; round += 1) {
    const { offsetS, drift, biasM } = fit.estimate;
    if (Math.abs(biasM) < BIAS_SETTLED_M) break;
    lookedUpAtM += biasM;
    const again = withPasses(words, findPasses, { lagS: options.lagS, biasM: lookedUpAtM });
    fit = fitWords(again, { offsetS, drift, biasM: 0 }, prior(-lookedUpAtM));
  }
  if (fit === null) return null;
  return chooseFit(first, { fit, lookedUpAtM, other: null }, options);
}

/** The clock of the words alone, with the points set by hand that no clock meets beside them. */
function withLeftOut(solution: ClockSolution, byHand: readonly ClockWord[]): ClockSolution {
  const { evidence, rejected, reason } = solution;
  const leftOut =
    'with the tie points set by hand the clock would run wrong by more than 1 %; they are left out';
  return {
    ...solution,
    rejected: rejected + byHand.length,
    reason: reason === null ? leftOut : `${leftOut}; ${reason}`,
    evidence:
      evidence === null
        ? null
        : { ...evidence, ties: [...evidence.ties, ...leftOutTies(byHand, solution)] },
  };
}

/**
 * A log's clock from spoken ranges, calls of contact and capture, and points set by hand.
 *
 * Every word is tried against every pass of its range; the line through one or two of them that the
 * most words agree with is taken (ranges passed twice and words misheard do no harm). Then offset,
 * drift and a range bias (said minus measured, supposed about 0) are fitted together, each word
 * weighed by its lag's scatter and by its range's scatter over the closing rate, outliers left out.
 * The lag is taken off: a word's session time is its moment plus the mean lag. Lag and offset cannot
 * be told apart, so the mean lag's own standard deviation goes into the offset's uncertainty. Where
 * the words do not speak clearly for a range bias none is fitted, and what one would do stays, by
 * its weight, in the errors (Bayesian model averaging; Hoeting et al., Statist. Sci. 14 (1999) 382). A
 * drift under twice its standard error is reported as 0, with the reason. Points set by hand are left
 * out, all of them, where with them the clock would run wrong by more than 1 %.
 *
 * @param words what the log says of its clock; ranges get their passes here
 * @param track the estimated range over session time; `null` where there is none
 * @returns the clock; the identity with a reason where no word meets a moment of the session
 */
export function alignClock(
  words: readonly ClockWord[],
  track: RangeTrack | null,
  options: AlignOptions,
): ClockSolution {
  const identity = { offsetS: 0, driftPpm: 0 };
  if (words.length === 0) return statedClock(identity, 'the log holds no certain spoken range');
  const findPasses: FindPasses = track === null ? () => [] : makePassFinder(track);
  const found = findFit(words, findPasses, options);
  const byHand = words.filter(({ fixed }) => fixed);
  if (byHand.length > 0 && Math.abs(found?.fit.estimate.drift ?? 0) > LARGEST_DRIFT) {
    const rest = words.filter(({ fixed }) => !fixed);
    return withLeftOut(alignClock(rest, track, options), byHand);
  }
  const solution = found === null ? null : clockOfWords(found, options);
  if (solution !== null) return solution;
  const reason = 'no spoken range was crossed in the telemetry';
  const { lagS, lagSdS, lagMeanSdS } = options;
  return {
    ...statedClock(identity, reason),
    rejected: words.length,
    evidence: {
      lag: { lagS, lagSdS, lagMeanSdS },
      offsetFromLagS: 0,
      rangeBiasM: null,
      rangeBiasUncertaintyM: null,
      residualBeforeRmsS: null,
      outlierRule: OUTLIER_RULE,
      ties: unmetTies(words, identity),
    },
  };
}
