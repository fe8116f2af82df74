/** Spoken ranges beside a clock that does not rest on them. */
import type { ClockTerms } from '../clock/clock-terms';
import type { ClockTie } from '../clock/clock-tie';
import { type AlignOptions, type Candidate, type ClockWord, candidatesOf } from './clock-words';
import { residualAt } from './match-words';
import { makePassFinder, type RangeTrack } from './range-passes';
import { besideTie } from './word-ties';

/** Farther than this from every pass a word is not about one, s. */
const FARTHEST_S = 600;

/**
 * Words of a log as tie points that were not used, each at the pass nearest to where a stated clock
 * puts it, so that people can see how well that clock fits.
 *
 * @param words spoken ranges and calls of events
 * @param terms the clock as stated
 * @returns in the order of the log; a word with no pass within ten minutes has no residual
 */
export function tiesBeside(
  words: readonly ClockWord[],
  track: RangeTrack,
  options: Readonly<{ terms: ClockTerms; lag: AlignOptions }>,
): readonly ClockTie[] {
  const { terms, lag } = options;
  const findPasses = makePassFinder(track);
  const line = { offsetS: terms.offsetS, drift: terms.driftPpm * 1e-6, biasM: 0 };
  return words.map((word) => {
    const candidates =
      word.valueM === null ? word.candidates : candidatesOf(findPasses(word.valueM), lag.lagS);
    let nearest: Candidate | null = null;
    let leastS = FARTHEST_S;
    for (const candidate of candidates) {
      const offS = Math.abs(residualAt(word, candidate, line));
      if (offS > leastS) continue;
      leastS = offS;
      nearest = candidate;
    }
    return besideTie(word, nearest?.sessionS ?? null, terms);
  });
}
