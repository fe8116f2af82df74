/** The words of a log as tie points, with what became of each. */
import { type ClockTerms, toSessionSeconds } from '../clock/clock-terms';
import type { ClockTie } from '../clock/clock-tie';
import { type ClockEstimate, clockWithout, type Observation } from '../clock/weighted-clock';
import type { ClockWord } from './clock-words';
import type { FittedWord } from './fit-words';

/** A clock kept, its estimate, and the observations it was fitted to. */
export type KeptClock = Readonly<{
  terms: ClockTerms;
  estimate: ClockEstimate;
  observations: readonly Observation[];
}>;

const UNUSED = { sdS: null, weight: 0, used: false, without: null, withoutSdS: null } as const;

function tieOf(
  word: ClockWord,
  sessionS: number | null,
  terms: ClockTerms,
): Omit<ClockTie, 'sdS' | 'weight' | 'used' | 'reason' | 'without' | 'withoutSdS'> {
  return {
    kind: word.kind,
    label: word.label,
    line: word.line,
    spokenIndex: word.spokenIndex,
    sourceS: word.sourceS,
    sessionS,
    residualS: sessionS === null ? null : sessionS - toSessionSeconds(terms, word.sourceS),
    residualBeforeS: sessionS === null ? null : sessionS - word.sourceS,
  };
}

/** Words that count: their residual with the range bias taken off, their share of the weight. */
export function usedTies(used: readonly FittedWord[], clock: KeptClock): readonly ClockTie[] {
  const { estimate, observations, terms } = clock;
  const total = observations.reduce((sum, { sdS }) => sum + sdS ** -2, 0);
  return used.map(({ word, matched }, index) => {
    const sdS = observations[index]?.sdS ?? Number.NaN;
    const sessionS = matched.sessionS + estimate.biasM * matched.biasSPerM;
    const without = clockWithout(estimate, observations, index);
    const leverage = estimate.leverages[index] ?? 1;
    return {
      ...tieOf(word, sessionS, terms),
      sdS,
      weight: sdS ** -2 / total,
      used: true,
      reason: usedReason(word, matched.biasSPerM),
      without,
      withoutSdS: without === null ? null : sdS * Math.sqrt(leverage / (1 - leverage)),
    };
  });
}

function usedReason(word: ClockWord, biasSPerM: number): string {
  if (word.kind === 'range') {
    const rate = Math.abs(1 / biasSPerM).toFixed(2);
    return `fits; ${biasSPerM > 0 ? 'closing' : 'opening'} at ${rate} m/s when it was passed`;
  }
  return word.kind === 'event' ? 'fits; the instant is known' : 'set by hand';
}

/** Words beyond the outlier rule. */
export function rejectedTies(
  rejected: readonly FittedWord[],
  clock: KeptClock,
): readonly ClockTie[] {
  return rejected.map(({ word, matched, deviations }) => {
    const sessionS = matched.sessionS + clock.estimate.biasM * matched.biasSPerM;
    const size = Math.abs(deviations).toFixed(1);
    return {
      ...tieOf(word, sessionS, clock.terms),
      ...UNUSED,
      reason: `outlier: ${size} standard deviations from the nearest pass`,
    };
  });
}

/** Words that no moment of the telemetry answers to. */
export function unmetTies(words: readonly ClockWord[], terms: ClockTerms): readonly ClockTie[] {
  const reason = 'the measured range did not pass this value at 0.02 m/s or more';
  return words.map((word) => ({ ...tieOf(word, null, terms), ...UNUSED, reason }));
}

/** Points set by hand that no clock meets. */
export function leftOutTies(words: readonly ClockWord[], terms: ClockTerms): readonly ClockTie[] {
  return words.map((word) => ({
    ...tieOf(word, word.candidates[0]?.sessionS ?? null, terms),
    ...UNUSED,
    reason: 'left out: with it the clock would run wrong by more than 1 %',
  }));
}

/** A word beside a clock that does not rest on it, at the moment nearest to it. */
export function besideTie(word: ClockWord, sessionS: number | null, terms: ClockTerms): ClockTie {
  const reason =
    sessionS === null
      ? 'no pass of this range lies near it'
      : 'shown beside a clock that was stated; not used';
  return { ...tieOf(word, sessionS, terms), ...UNUSED, reason };
}
