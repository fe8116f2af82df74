/** How far words scatter about the moment they mean, and what each weighs for it. */
import type { Observation } from '../clock/weighted-clock';

/**
 * Standard deviation of a spoken range about the range at its moment: a length (m) and a share of
 * the range, in quadrature. Instruments and rounding make both.
 */
export type RangeScatter = Readonly<{ lengthM: number; share: number }>;

/** Taken for granted while words are matched to passes, and where too few are left to tell. */
export const SUPPOSED_SCATTER: RangeScatter = { lengthM: 0.3, share: 0.01 };

/** As sharp as words called at the moment of passing are: the second start of a fit. */
export const SHARP_SCATTER: RangeScatter = { lengthM: 0.05, share: 0 };

/** No word is placed better than this, s. */
const LEAST_SD_S = 0.01;

const LENGTHS_M = [0.005, 0.02, 0.05, 0.1, 0.2, 0.4, 0.8, 1.5];
const SHARES = [0, 0.005, 0.015, 0.04];
/** Fewer ranges than this tell nothing of their scatter. */
const LEAST_COUNT = 5;
/** Degrees of freedom of the t distribution that words are supposed to follow. */
const DEGREES = 4;

/** One matched word: its observation without a scatter yet. */
export type Matched = Readonly<{
  sourceS: number;
  sessionS: number;
  biasSPerM: number;
  lagSdS: number;
  valueM: number | null;
}>;

/** What the last fit left over at a word, s, and the share of itself in what was fitted there. */
export type LeftOver = Readonly<{ residualS: number; leverage: number }>;

/** Standard deviation in time of a word, s: its lag's and its range's over the closing rate. */
export function wordSdS(
  word: Pick<Matched, 'lagSdS' | 'valueM' | 'biasSPerM'>,
  scatter: RangeScatter,
): number {
  const rangeSdM =
    word.valueM === null ? 0 : Math.hypot(scatter.lengthM, scatter.share * word.valueM);
  return Math.max(LEAST_SD_S, Math.hypot(word.lagSdS, rangeSdM * word.biasSPerM));
}

/**
 * Matched words as observations of the clock.
 *
 * A word far out in its scatter is given a larger standard deviation, as one of a t distribution
 * with 4 degrees of freedom: it still counts, for less.
 *
 * @param left what the last fit left over at each; empty before the first
 *
 * Source: Lange, Little & Taylor, J. Amer. Statist. Assoc. 84 (1989) 881, weights of the t model.
 */
export function observationsOf(
  words: readonly Matched[],
  scatter: RangeScatter,
  left: readonly LeftOver[],
): readonly Observation[] {
  return words.map((word, index) => {
    const { sourceS, sessionS, biasSPerM } = word;
    const sdS = wordSdS(word, scatter);
    const deviations = (left[index]?.residualS ?? 0) / sdS;
    const widened = left.length === 0 ? 1 : Math.sqrt((DEGREES + deviations ** 2) / (DEGREES + 1));
    return { sourceS, sessionS, biasSPerM, sdS: sdS * Math.max(1, widened) };
  });
}

/** -2 log likelihood of residuals under the t distribution, constants left out. */
export function deviance(
  words: readonly Matched[],
  left: readonly LeftOver[],
  scatter: RangeScatter,
): number {
  return words.reduce((sum, word, index) => {
    const sdS = wordSdS(word, scatter);
    const { residualS = 0, leverage = 0 } = left[index] ?? {};
    const square = (residualS / sdS) ** 2 / Math.max(0.1, 1 - leverage);
    return sum + 2 * Math.log(sdS) + (DEGREES + 1) * Math.log1p(square / DEGREES);
  }, 0);
}

/**
 * The scatter of spoken ranges, from how well they fit a clock.
 *
 * Every pair of a length and a share is tried on what the last fit left over; the result is their
 * root mean square over the likelihood, which is wider than the likeliest pair alone and so does
 * not pretend to know the scatter of a few words.
 *
 * @param words matched words, those left out not among them
 * @returns the scatter; the supposed one for fewer than five ranges
 */
export function estimateScatter(
  words: readonly Matched[],
  left: readonly LeftOver[],
): RangeScatter {
  if (words.filter((word) => word.valueM !== null).length < LEAST_COUNT) return SUPPOSED_SCATTER;
  const tried = LENGTHS_M.flatMap((lengthM) =>
    SHARES.map((share) => ({ lengthM, share, misfit: deviance(words, left, { lengthM, share }) })),
  );
  const least = Math.min(...tried.map(({ misfit }) => misfit));
  let total = 0;
  let length2 = 0;
  let share2 = 0;
  for (const { lengthM, share, misfit } of tried) {
    const likelihood = Math.exp((least - misfit) / 2);
    total += likelihood;
    length2 += likelihood * lengthM ** 2;
    share2 += likelihood * share ** 2;
  }
  return { lengthM: Math.sqrt(length2 / total), share: Math.sqrt(share2 / total) };
}
