/** A log's clock from what is spoken in it, against the measured range. */
import { type ClockSolution, statedClock } from '../clock/clock-solution';
import { type AlignOptions, type ClockWord, candidatesOf } from './clock-words';
import { fitWords, OUTLIER_RULE, type WordsFit } from './fit-words';
import { findConsensus, LARGEST_DRIFT } from './match-words';
import { type FindPasses, makePassFinder, type RangeTrack } from './range-passes';
import { clockOfWords } from './word-clock';
import { leftOutTies, unmetTies } from './word-ties';

/** The passes are looked up again at the range less the bias, until it moves by less than this. */
const BIAS_SETTLED_M = 0.01;
const LOOK_UPS = 3;

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

/** The fit with the range bias at which its passes were looked up. */
function findFit(
  words: readonly ClockWord[],
  findPasses: FindPasses,
  options: AlignOptions,
): Readonly<{ fit: WordsFit; lookedUpAtM: number }> | null {
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
  return fit === null ? null : { fit, lookedUpAtM };
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
 * be told apart, so the mean lag's own standard deviation goes into the offset's uncertainty. A
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
