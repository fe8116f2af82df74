/** The words of a log fitted: which of them count, and the clock they give. */
import {
  type BiasPrior,
  type ClockEstimate,
  fitWeightedClock,
  type Observation,
} from '../clock/weighted-clock';
import { median, SD_PER_MAD } from '../math/statistics';
import type { ClockWord } from './clock-words';
import { type BiasedLine, bestCandidate, LEAST_SPAN_S } from './match-words';
import {
  deviance,
  estimateScatter,
  type LeftOver,
  type Matched,
  observationsOf,
  type RangeScatter,
  SHARP_SCATTER,
  SUPPOSED_SCATTER,
} from './word-scatter';

/** The rule in words, for people. */
export const OUTLIER_RULE =
  'modified z-score over 3.5 (Iglewicz and Hoaglin, 1993): a residual over 3.5 of its standard deviations, these scaled by the median absolute deviation where that is larger';

const REJECT_OVER = 3.5;
/** The scale of the deviations is not let grow beyond this, or a log of outliers would take all. */
const LARGEST_SCALE = 2;
const ROUNDS = 12;
/** -2 log of a density of one in 1000 s. */
const REJECTED_SURPRISE = 2 * Math.log(1000);

/** A word matched to the pass it belongs to; `deviations` is its residual in scaled deviations. */
export type FittedWord = Readonly<{ word: ClockWord; matched: Matched; deviations: number }>;

/** `biasM` is counted from the bias at which the passes were looked up. */
export type WordsFit = Readonly<{
  used: readonly FittedWord[];
  rejected: readonly FittedWord[];
  /** Words that no moment of the telemetry answers to. */
  unmet: readonly ClockWord[];
  scatter: RangeScatter;
  prior: BiasPrior;
  estimate: ClockEstimate;
  /** The words used as the fit weighed them. */
  observations: readonly Observation[];
}>;

function matchAll(
  words: readonly ClockWord[],
  line: BiasedLine,
  scatter: RangeScatter,
): readonly FittedWord[] {
  return words.flatMap((word) => {
    const best = bestCandidate(word, line, scatter);
    if (best === null) return [];
    const { sourceS, lagSdS, valueM } = word;
    return [
      {
        word,
        matched: { sourceS, lagSdS, valueM, ...best.candidate },
        deviations: best.deviations,
      },
    ];
  });
}

/** Scale of the deviations: their median absolute deviation from 0, between 1 and 2. */
function deviationScale(matched: readonly FittedWord[]): number {
  const scale = SD_PER_MAD * median(matched.map(({ deviations }) => Math.abs(deviations)));
  return Math.min(LARGEST_SCALE, Math.max(1, scale));
}

/** True where the words reach far enough apart, and are enough, to tell a drift. */
export function tellsDrift(words: readonly Matched[]): boolean {
  const times = words.map(({ sourceS }) => sourceS);
  return words.length >= 3 && Math.max(...times) - Math.min(...times) >= LEAST_SPAN_S;
}

const sameWords = (a: readonly FittedWord[], b: readonly FittedWord[]) =>
  a.length === b.length &&
  a.every((one, index) => one.matched.sessionS === b[index]?.matched.sessionS);

/**
 * Fits the words about a first line, leaving out those beyond the outlier rule.
 *
 * Words are matched to their nearest pass, their scatter estimated, the clock fitted, and all of it
 * repeated until the same words stay (12 times at most). A point set by hand is never left out.
 *
 * @param words of one log
 * @param start a line near the truth, its bias counted like the candidates'
 * @param prior what is supposed of the bias
 * @returns null where no word has a candidate or the equations cannot be solved
 */
export function fitWords(
  words: readonly ClockWord[],
  start: BiasedLine,
  prior: BiasPrior,
): WordsFit | null {
  // Where some call a range as it is passed and others read it off rounded, the sharp words
  // settle the clock only if the fit starts by expecting them.
  const fits = [SUPPOSED_SCATTER, SHARP_SCATTER].flatMap(
    (scatter) => fitFrom(words, { line: start, scatter }, prior) ?? [],
  );
  return fits.reduce<WordsFit | null>(
    (best, fit) => (best === null || surprise(fit) < surprise(best) ? fit : best),
    null,
  );
}

/** -2 log likelihood of all matched words, a rejected one taken as said at any time. */
function surprise({ used, rejected, estimate, scatter }: WordsFit): number {
  const words = used.map(({ matched }) => matched);
  return deviance(words, leftOver(estimate), scatter) + rejected.length * REJECTED_SURPRISE;
}

type Start = Readonly<{ line: BiasedLine; scatter: RangeScatter }>;

function fitFrom(words: readonly ClockWord[], start: Start, prior: BiasPrior): WordsFit | null {
  const unmet = words.filter((word) => word.candidates.length === 0);
  let { line, scatter } = start;
  let found: WordsFit | null = null;
  for (let round = 0; round < ROUNDS; round += 1) {
    const matched = matchAll(words, line, scatter);
    const scale = deviationScale(matched);
    const isIn = ({ word, deviations }: FittedWord) =>
      word.fixed || Math.abs(deviations) <= REJECT_OVER * scale;
    const used = matched.filter(isIn);
    if (used.length === 0) return found;
    const isSettled = found !== null && round > 2 && sameWords(found.used, used);
    const fitted = fitUsed(used, { line, scatter }, prior);
    if (fitted === null) return found;
    scatter = fitted.scatter;
    line = fitted.estimate;
    const rejected = matched.filter((one) => !isIn(one));
    found = { used, rejected, unmet, prior, ...fitted };
    if (isSettled) break;
  }
  return found;
}

/** One round: the scatter about the line so far, the weights by it, the clock by them. */
function fitUsed(
  used: readonly FittedWord[],
  last: Start,
  prior: BiasPrior,
): Pick<WordsFit, 'estimate' | 'observations' | 'scatter'> | null {
  const counted = used.map(({ matched }) => matched);
  const terms = tellsDrift(counted) ? 'drift' : 'offset-only';
  const first = fitWeightedClock(observationsOf(counted, last.scatter, []), prior, terms);
  if (first === null) return null;
  const left = leftOver(first);
  const scatter = estimateScatter(counted, left);
  const observations = observationsOf(counted, scatter, left);
  const estimate = fitWeightedClock(observations, prior, terms);
  return estimate === null ? null : { estimate, observations, scatter };
}

function leftOver({ residualsS, leverages }: ClockEstimate): readonly LeftOver[] {
  return residualsS.map((residualS, index) => ({ residualS, leverage: leverages[index] ?? 0 }));
}
