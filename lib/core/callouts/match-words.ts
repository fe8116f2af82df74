/** Which pass each word of a log belongs to, before anything is known of its clock. */
import type { Candidate, ClockWord } from './clock-words';
import { SUPPOSED_SCATTER, wordSdS } from './word-scatter';

/** A clock with a range bias: session = offsetS + source x (1 + drift), ranges said `biasM` too large. */
export type BiasedLine = Readonly<{ offsetS: number; drift: number; biasM: number }>;

/** A clock that gains more than 1 % is none. */
export const LARGEST_DRIFT = 0.01;
/** Two words closer than this tell no drift. */
export const LEAST_SPAN_S = 60;
/** Lines are drawn through at most this many words, and pairs of this many, spread over the log. */
const SEED_COUNT = 40;
const PAIRED_COUNT = 14;
/** Range biases tried, m. */
const BIASES_M = [0, -0.5, 0.5, -1, 1, -1.5, 1.5, -2, 2];
/** Biases tried with lines through two words. */
const FEW_BIASES_M = [0, -1, 1];
/** Beyond this many standard deviations a word says nothing for a line. */
const GATE = 4;
/** How many ranges one call of contact or capture, and one point set by hand, outweighs. */
const EVENT_VOTES = 2;
const HAND_VOTES = 10;

/** Residual of a word at one of its candidates, s. */
export function residualAt(word: ClockWord, candidate: Candidate, line: BiasedLine): number {
  const shiftS = line.biasM * candidate.biasSPerM;
  return candidate.sessionS + shiftS - word.sourceS - line.offsetS - line.drift * word.sourceS;
}

/** The candidate that a line meets best, with its residual in standard deviations. */
export type BestCandidate = Readonly<{ candidate: Candidate; deviations: number }>;

/**
 * The candidate of a word nearest to a line, in standard deviations.
 *
 * @returns null for a word with no candidate
 */
export function bestCandidate(
  word: ClockWord,
  line: BiasedLine,
  scatter = SUPPOSED_SCATTER,
): BestCandidate | null {
  let best: BestCandidate | null = null;
  for (const candidate of word.candidates) {
    const sdS = wordSdS({ ...word, biasSPerM: candidate.biasSPerM }, scatter);
    const deviations = residualAt(word, candidate, line) / sdS;
    if (best === null || Math.abs(deviations) < Math.abs(best.deviations)) {
      best = { candidate, deviations };
    }
  }
  return best;
}

function votes(word: ClockWord): number {
  if (word.fixed) return HAND_VOTES;
  return word.kind === 'event' ? EVENT_VOTES : 1;
}

/** A word with the gate of each candidate worked out once. */
type Gated = Readonly<{
  word: ClockWord;
  votes: number;
  gates: readonly Readonly<{ sessionS: number; biasSPerM: number; gateS: number }>[];
}>;

function gated(word: ClockWord): Gated {
  const gates = word.candidates.map((candidate) => ({
    ...candidate,
    gateS: GATE * wordSdS({ ...word, biasSPerM: candidate.biasSPerM }, SUPPOSED_SCATTER),
  }));
  return { word, votes: votes(word), gates };
}

/** How well a line fits: a vote for each word it meets, falling to 0 at the gate. */
function agreement(all: readonly Gated[], { offsetS, drift, biasM }: BiasedLine): number {
  let sum = 0;
  for (const { word, votes: weight, gates } of all) {
    const mappedS = word.sourceS * (1 + drift) + offsetS;
    let least = 1;
    for (const { sessionS, biasSPerM, gateS } of gates) {
      const share = Math.abs(sessionS + biasM * biasSPerM - mappedS) / gateS;
      if (share < least) least = share;
    }
    sum += weight * (1 - least * least);
  }
  // Of lines that agree alike the one that supposes less is taken.
  return sum - 0.02 * biasM ** 2 - 0.02 * (drift / 1e-3) ** 2;
}

function spread(all: readonly Gated[], count: number): readonly Gated[] {
  const every = Math.max(1, all.length / count);
  return all.filter((_, index) => Math.floor(index / every) !== Math.floor((index - 1) / every));
}

/** Lines through one word (no drift) and through two, every combination of their candidates. */
function* candidateLines(all: readonly Gated[]): Generator<BiasedLine> {
  for (const { word, gates } of spread(all, SEED_COUNT)) {
    for (const { sessionS, biasSPerM } of gates) {
      for (const biasM of BIASES_M) {
        yield { offsetS: sessionS + biasM * biasSPerM - word.sourceS, drift: 0, biasM };
      }
    }
  }
  const paired = spread(all, PAIRED_COUNT);
  for (const [index, first] of paired.entries()) {
    for (const second of paired.slice(index + 1)) yield* linesThrough(first, second);
  }
}

function* linesThrough(first: Gated, second: Gated): Generator<BiasedLine> {
  const spanS = second.word.sourceS - first.word.sourceS;
  if (Math.abs(spanS) < LEAST_SPAN_S) return;
  for (const a of first.gates) {
    for (const b of second.gates) {
      for (const biasM of FEW_BIASES_M) {
        const firstS = a.sessionS + biasM * a.biasSPerM;
        const drift = (b.sessionS + biasM * b.biasSPerM - firstS) / spanS - 1;
        if (Math.abs(drift) > LARGEST_DRIFT) continue;
        yield { offsetS: firstS - first.word.sourceS * (1 + drift), drift, biasM };
      }
    }
  }
}

/**
 * The line that the most words agree with: of a range crossed several times the pass is chosen
 * with it, and words misheard do no harm.
 *
 * @param words of one log, in any order
 * @returns the line; null where no word has a candidate
 *
 * Source: random sample consensus with every sample drawn (Fischler & Bolles, 1981), scored by a
 * truncated quadratic.
 */
export function findConsensus(words: readonly ClockWord[]): BiasedLine | null {
  const all = words
    .filter((word) => word.candidates.length > 0)
    .sort((a, b) => a.sourceS - b.sourceS)
    .map(gated);
  let best: BiasedLine | null = null;
  let bestAgreement = Number.NEGATIVE_INFINITY;
  for (const line of candidateLines(all)) {
    const agreed = agreement(all, line);
    if (agreed > bestAgreement + 1e-9) {
      best = line;
      bestAgreement = agreed;
    }
  }
  return best;
}
