/** A log's clock from the ranges spoken in it, against the measured range. */
import type { ClockSolution } from '../clock/clock-solution';
import { fitLine, type TiePoint } from '../clock/fit-line';
import { clockFromFit } from '../clock/solve-clock';
import type { SpokenValue } from './find-callouts';
import { findCrossings, type RangeTrack } from './range-crossings';

/** A spoken range with the session times at which it may have been said (crossing plus lag). */
type Spoken = Readonly<{ sourceS: number; saidAtS: readonly number[] }>;

type Line = Readonly<{ offsetS: number; drift: number }>;

/** A clock that gains more than 1 % is none. */
const LARGEST_DRIFT = 0.01;
/** Two words closer than this tell no drift. */
const LEAST_SPAN_S = 60;
/** Lines are drawn through at most this many words, spread over the log. */
const SEED_COUNT = 40;
/** Beyond this many standard deviations of the lag a word belongs to no crossing. */
const GATE_SD = 4;
const LEAST_GATE_S = 1;
const ROUNDS = 20;
const NORMAL_975 = 1.96;

function residualS(spoken: Spoken, line: Line): Readonly<{ atS: number; offS: number }> {
  const mappedS = line.offsetS + spoken.sourceS * (1 + line.drift);
  let atS = NaN;
  let offS = Number.POSITIVE_INFINITY;
  for (const saidAtS of spoken.saidAtS) {
    if (Math.abs(saidAtS - mappedS) < Math.abs(offS)) {
      offS = saidAtS - mappedS;
      atS = saidAtS;
    }
  }
  return { atS, offS };
}

/** How well a line fits: 1 for each word that it meets, falling to 0 at the gate. */
function agreement(all: readonly Spoken[], line: Line, gateS: number): number {
  return all.reduce((sum, spoken) => {
    const share = residualS(spoken, line).offS / gateS;
    return sum + Math.max(0, 1 - share * share);
  }, 0);
}

/** Lines through one word (no drift) and through two, every combination of their crossings. */
function* candidateLines(all: readonly Spoken[]): Generator<Line> {
  const every = Math.max(1, all.length / SEED_COUNT);
  const seeds = all.filter(
    (_, index) => Math.floor(index / every) !== Math.floor((index - 1) / every),
  );
  for (const [index, first] of seeds.entries()) {
    for (const firstS of first.saidAtS) {
      yield { offsetS: firstS - first.sourceS, drift: 0 };
      for (const second of seeds.slice(index + 1)) {
        const spanS = second.sourceS - first.sourceS;
        if (Math.abs(spanS) < LEAST_SPAN_S) continue;
        for (const secondS of second.saidAtS) {
          const drift = (secondS - firstS) / spanS - 1;
          if (Math.abs(drift) > LARGEST_DRIFT) continue;
          yield { offsetS: firstS - first.sourceS * (1 + drift), drift };
        }
      }
    }
  }
}

/** The words that a line meets, as tie points. */
function met(all: readonly Spoken[], line: Line, gateS: number): readonly TiePoint[] {
  return all.flatMap((spoken): TiePoint[] => {
    const { atS, offS } = residualS(spoken, line);
    return Math.abs(offS) <= gateS ? [[spoken.sourceS, atS]] : [];
  });
}

function refine(all: readonly Spoken[], start: Line, gateS: number): readonly TiePoint[] {
  let points = met(all, start, gateS);
  for (let round = 0; round < ROUNDS; round += 1) {
    const fit = fitLine(points);
    // With two words a line meets both whatever their lags; the drift waits for a third.
    const drift =
      points.length < 3 ? 0 : Math.max(-LARGEST_DRIFT, Math.min(LARGEST_DRIFT, fit.drift));
    const line = { offsetS: fit.meanOffsetS - drift * fit.meanSourceS, drift };
    const next = met(all, line, gateS);
    if (next.length === 0 || samePoints(points, next)) break;
    points = next;
  }
  return points;
}

function samePoints(a: readonly TiePoint[], b: readonly TiePoint[]): boolean {
  return (
    a.length === b.length &&
    a.every((point, index) => point[0] === b[index]?.[0] && point[1] === b[index]?.[1])
  );
}

function unaligned(rejected: number, reason: string): ClockSolution {
  return {
    offsetS: 0,
    offsetUncertaintyS: null,
    driftPpm: 0,
    driftUncertaintyPpm: null,
    residualRmsS: null,
    used: 0,
    rejected,
    reason,
  };
}

function solve(points: readonly TiePoint[], lagSdS: number, rejected: number): ClockSolution {
  const fit = fitLine(points);
  const few = points.length < 3;
  const degrees = Math.max(1, points.length - 2);
  const pointS = few ? lagSdS : Math.max(lagSdS, Math.sqrt(fit.sumSquaresS2 / degrees));
  if (!few) {
    const solution = clockFromFit(fit, { pointS, factor: NORMAL_975, commonS: lagSdS }, rejected);
    return rejected > points.length
      ? { ...solution, reason: minority(points.length, rejected, solution.reason) }
      : solution;
  }
  return {
    offsetS: fit.meanOffsetS,
    offsetUncertaintyS: NORMAL_975 * Math.hypot(fit.meanErrorPerS * pointS, lagSdS),
    driftPpm: 0,
    driftUncertaintyPpm: null,
    residualRmsS: Math.sqrt(fit.sumSquaresNoDriftS2 / points.length),
    used: points.length,
    rejected,
    reason: 'fewer than three spoken ranges agree; the drift is taken as 0',
  };
}

function minority(used: number, rejected: number, other: string | null): string {
  const words = `only ${used} of ${used + rejected} spoken ranges agree with this clock`;
  return other === null ? words : `${words}; ${other}`;
}

/**
 * A log's clock from spoken ranges.
 *
 * Every certain spoken range is tried against every crossing of that range: the line through one or
 * two of them that the most words agree with is taken (ranges crossed twice and words misheard do
 * no harm), then fitted by least squares to the words within four standard deviations of the lag.
 * The lag is taken off: a word's session time is its crossing plus the lag. The offset's uncertainty
 * holds the scatter and the lag's standard deviation once more, for a speaker's own mean lag. A
 * drift under twice its standard error is reported as 0, with the reason.
 *
 * @param spoken values of one log, doubtful ones and rates are passed over
 * @param track the estimated range over session time
 * @param lag mean and standard deviation of the human lag, s
 * @returns the clock; the identity with a reason where no spoken range meets a crossing
 *
 * Source: the consensus step is random sample consensus with every sample drawn (Fischler & Bolles,
 * 1981), scored by a truncated quadratic; the rest is least squares.
 */
export function alignClock(
  spoken: readonly SpokenValue[],
  track: RangeTrack,
  lag: Readonly<{ lagS: number; lagSdS: number }>,
): ClockSolution {
  const certain = spoken.filter((value) => value.kind === 'range' && !value.doubtful);
  if (certain.length === 0) return unaligned(0, 'the log holds no certain spoken range');
  const crossings = new Map<number, readonly number[]>();
  const all = certain.map(({ sourceS, valueSi }): Spoken => {
    const known = crossings.get(valueSi) ?? findCrossings(track, valueSi);
    crossings.set(valueSi, known);
    return { sourceS, saidAtS: known.map((timeS) => timeS + lag.lagS) };
  });
  const gateS = Math.max(LEAST_GATE_S, GATE_SD * lag.lagSdS);
  let best: Line | null = null;
  let bestAgreement = 0;
  for (const line of candidateLines(all)) {
    const agreed = agreement(all, line, gateS);
    if (agreed > bestAgreement + 1e-9) {
      best = line;
      bestAgreement = agreed;
    }
  }
  if (best === null)
    return unaligned(certain.length, 'no spoken range was crossed in the telemetry');
  const points = refine(all, best, gateS);
  return solve(points, lag.lagSdS, certain.length - points.length);
}
