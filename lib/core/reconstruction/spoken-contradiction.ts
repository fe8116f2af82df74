/** Spoken ranges that contradict a stated clock or the telemetry by more than people are late. */
import { alignClock } from '../callouts/align-clock';
import type { AlignOptions, ClockWord } from '../callouts/clock-words';
import { LARGEST_DRIFT } from '../callouts/match-words';
import type { RangeTrack } from '../callouts/range-passes';
import { tiesBeside } from '../callouts/ties-beside';
import type { ClockSolution } from '../clock/clock-solution';
import { toSessionSeconds } from '../clock/clock-terms';
import { median } from '../math/statistics';
import { METRES_PER_FOOT } from '../units/unit';

/** Fewer certain spoken ranges contradict nothing. Our own choice, as are the next three. */
const LEAST_RANGES = 4;
/** Ten standard deviations of the usual lag: nobody is as late as this at every second word. */
const SUSPECT_S = 4;
/** Another clock is one by this many of its 95 % half-widths. */
const APART_HALVES = 3;
/** A clock that fewer than this share of the words agree with is none. */
const LEAST_SHARE = 0.5;
/** With another unit the words have to agree better than that. */
const UNIT_SHARE = 0.75;

/** `clock`: by the words it is another one, `value` seconds later. `telemetry`: no clock fits them. */
export type SpokenContradiction =
  | Readonly<{
      kind: 'clock';
      laterS: number;
      halfS: number;
      agreeing: number;
      ranges: number;
    }>
  | Readonly<{
      kind: 'telemetry';
      agreeing: number;
      ranges: number;
      /** Said over measured with which they would agree; null where no known factor does it. */
      factor: number | null;
    }>;

/** What words are held against: the estimated range, and how the log lies on session time. */
export type SpokenAgainst = Readonly<{
  track: RangeTrack;
  solution: ClockSolution;
  lag: AlignOptions;
}>;

type Share = Readonly<{ agreeing: number; met: number; isClock: boolean }>;

/** How many of the ranges a fitted clock meets, of those that were measured at any time. */
function shareOf({ driftPpm, evidence }: ClockSolution): Share {
  const ranges = (evidence?.ties ?? []).filter(({ kind }) => kind === 'range');
  const met = ranges.filter(({ sessionS }) => sessionS !== null).length;
  const agreeing = ranges.filter(({ used }) => used).length;
  return { agreeing, met, isClock: Math.abs(driftPpm) * 1e-6 <= LARGEST_DRIFT };
}

/** The factor on what was said with which one clock meets the words; null where none does. */
function unitFactor(words: readonly ClockWord[], { track, lag }: SpokenAgainst): number | null {
  for (const factor of [1 / METRES_PER_FOOT, METRES_PER_FOOT]) {
    const scaled = words.map((word) =>
      word.valueM === null ? word : { ...word, valueM: word.valueM / factor },
    );
    const { agreeing, isClock } = shareOf(alignClock(scaled, track, lag));
    if (isClock && agreeing >= LEAST_RANGES && agreeing >= UNIT_SHARE * words.length) return factor;
  }
  return null;
}

function noClock(
  ranges: readonly ClockWord[],
  agreeing: number,
  against: SpokenAgainst,
): SpokenContradiction {
  return {
    kind: 'telemetry',
    agreeing,
    ranges: ranges.length,
    factor: unitFactor(ranges, against),
  };
}

/** Ranges spoken, by a clock, while there was telemetry. */
function spokenMeanwhile(
  ranges: readonly ClockWord[],
  { track, solution }: SpokenAgainst,
): readonly ClockWord[] {
  const [fromS, toS] = [track.tS[0] ?? NaN, track.tS[track.tS.length - 1] ?? NaN];
  return ranges.filter(({ sourceS }) => {
    const atS = toSessionSeconds(solution, sourceS);
    return atS >= fromS && atS <= toS;
  });
}

function againstStated(
  words: readonly ClockWord[],
  against: SpokenAgainst,
): SpokenContradiction | null {
  const { track, solution, lag } = against;
  const ranges = words.filter(({ kind }) => kind === 'range');
  const held = spokenMeanwhile(ranges, against);
  if (held.length < LEAST_RANGES) return null;
  const off = tiesBeside(held, track, { terms: solution, lag }).map(({ residualS }) =>
    residualS === null ? Number.POSITIVE_INFINITY : Math.abs(residualS),
  );
  if (median(off) <= SUSPECT_S) return null;
  const fitted = alignClock(words, track, lag);
  const { agreeing, met, isClock } = shareOf(fitted);
  if (!isClock || agreeing < LEAST_RANGES || agreeing < LEAST_SHARE * Math.max(met, held.length)) {
    const close = off.filter((offS) => offS <= SUSPECT_S).length;
    return noClock(held, close, against);
  }
  const middleS = median(ranges.map(({ sourceS }) => sourceS));
  const laterS = toSessionSeconds(fitted, middleS) - toSessionSeconds(solution, middleS);
  const halfS = fitted.offsetUncertaintyS ?? Number.POSITIVE_INFINITY;
  if (Math.abs(laterS) <= Math.max(SUSPECT_S, APART_HALVES * halfS)) return null;
  return { kind: 'clock', laterS, halfS, agreeing, ranges: ranges.length };
}

function againstFitted(
  words: readonly ClockWord[],
  against: SpokenAgainst,
): SpokenContradiction | null {
  const ranges = words.filter(({ kind }) => kind === 'range');
  const { agreeing, met, isClock } = shareOf(against.solution);
  if (met < LEAST_RANGES || (isClock && agreeing >= LEAST_SHARE * met)) return null;
  return noClock(ranges, agreeing, against);
}

/**
 * Whether the ranges spoken in a log contradict its clock as stated, or the measured range.
 *
 * A stated clock is contradicted where at least every second range lies more than 4 s from the
 * moment it was measured and the clock found from the words is another one by more than its own
 * uncertainty. The telemetry is contradicted where no clock meets half of the words.
 *
 * @param words certain spoken ranges and calls of events of one log
 * @returns null where nothing is contradicted, or fewer than four ranges could be held against it
 */
export function spokenContradiction(
  words: readonly ClockWord[],
  against: SpokenAgainst & Readonly<{ basis: 'stated' | 'spoken' }>,
): SpokenContradiction | null {
  return against.basis === 'spoken' ? againstFitted(words, against) : againstStated(words, against);
}

const BOTH = 'is one in feet and read as metres?';

/**
 * The sentence for a contradiction.
 *
 * @param log the log's file name; it stands in the sentence, which is also shown without it
 */
export function contradictionText(found: SpokenContradiction, log: string): string {
  if (found.kind === 'clock') {
    const { laterS, halfS, agreeing, ranges } = found;
    const size = `${Math.abs(laterS).toFixed(1)} ± ${halfS.toFixed(1)} s`;
    const sense = laterS > 0 ? 'later' : 'earlier';
    return `The ranges spoken in ${log} contradict its clock: ${agreeing} of the ${ranges} put its times ${size} ${sense} than stated, far more than people are late. Its events, callouts and order stand where the stated clock puts them.`;
  }
  const { agreeing, ranges, factor } = found;
  const unit =
    factor === null
      ? 'a unit, a sign or a file may be the wrong one.'
      : `they agree where every said range is ${factor.toPrecision(3)} times the measured one: ${BOTH}`;
  return `The ranges spoken in ${log} contradict the telemetry: ${agreeing} of the ${ranges} agree with it by any one clock; ${unit}`;
}
