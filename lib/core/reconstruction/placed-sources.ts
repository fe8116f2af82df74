/** Sources on session time. */
import { alignClock } from '../callouts/align-clock';
import type { SpokenValue } from '../callouts/find-callouts';
import type { RangeTrack } from '../callouts/range-crossings';
import { type ClockSolution, toSessionSeconds } from '../clock/clock-solution';
import type { ClockSpec } from '../clock/clock-spec';
import { resolveClock } from '../clock/resolve-clock';
import type { EventSource, SessionSource, TelemetrySource } from '../session/session-input';
import { figureOf } from './figure-of';
import type { ClockFit, SessionEvent, SourceReport } from './reconstruction';

/** A source with the way from its own time to session time. */
export type PlacedSource<S extends SessionSource = SessionSource> = Readonly<{
  source: S;
  clock: ClockFit;
  toSession: (sourceS: number) => number;
}>;

/** Assumed where the session file states no lag: human lag behind a crossing and its spread, s (contract). */
export const ASSUMED_LAG = { lagS: 0.8, lagSdS: 0.4 } as const;

const CLOCK_METHODS: Readonly<Record<ClockSpec['kind'], string>> = {
  given: 'As stated in the session file.',
  'tie-points': 'Least squares over the tie points of the session file.',
  callouts:
    'Spoken ranges against the times at which the estimated range crossed them, robustly, the human lag taken off.',
};

function clockFit(source: SessionSource, solution: ClockSolution): ClockFit {
  const origin = { sources: [{ file: source.file, sha256: source.sha256 }], channels: [] };
  const method = CLOCK_METHODS[source.clock.kind];
  return {
    offsetS: figureOf(origin, {
      value: solution.offsetS,
      unit: 's',
      random: solution.offsetUncertaintyS,
      method,
    }),
    driftPpm: figureOf(origin, {
      value: solution.driftPpm,
      unit: 'ppm',
      random: solution.driftUncertaintyPpm,
      method,
    }),
    residualRmsS: solution.residualRmsS,
    tiePointsUsed: solution.used,
    tiePointsRejected: solution.rejected,
    reason: solution.reason,
  };
}

function placedBy<S extends SessionSource>(source: S, solution: ClockSolution): PlacedSource<S> {
  return {
    source,
    clock: clockFit(source, solution),
    toSession: (sourceS) => toSessionSeconds(solution, sourceS),
  };
}

const NO_CLOCK: ClockSolution = {
  offsetS: 0,
  offsetUncertaintyS: null,
  driftPpm: 0,
  driftUncertaintyPpm: null,
  residualRmsS: null,
  used: 0,
  rejected: 0,
  reason: null,
};

/** Telemetry by the clock its session file states. Its own words cannot align it: it has none. */
export function placeTelemetry(source: TelemetrySource): PlacedSource<TelemetrySource> {
  const solution =
    source.clock.kind === 'callouts'
      ? { ...NO_CLOCK, reason: 'telemetry holds no spoken ranges; taken as session time' }
      : resolveClock(source.clock);
  return placedBy(source, solution);
}

/**
 * A log by the clock its session file states, or by the ranges spoken in it.
 *
 * @param source the log
 * @param spoken what was found in its words
 * @param track the estimated range over session time; `null` where there is none
 */
export function placeLog(
  source: EventSource,
  spoken: readonly SpokenValue[],
  track: RangeTrack | null,
): PlacedSource<EventSource> {
  if (source.clock.kind !== 'callouts') return placedBy(source, resolveClock(source.clock));
  const solution =
    track === null
      ? { ...NO_CLOCK, reason: 'no range was estimated to hold the spoken ranges against' }
      : alignClock(spoken, track, source.clock);
  return placedBy(source, solution);
}

/** Times of the rows on session time; the source's own array where its clock is the session's. */
export function rowsOnSession(placed: PlacedSource<TelemetrySource>): Float64Array {
  const { source, toSession } = placed;
  if (toSession(0) === 0 && toSession(1) === 1) return source.tS;
  return source.tS.map((sourceS) => toSession(sourceS));
}

/** All entries of all logs on session time, in time order (in the order of the files where equal). */
export function eventsOnSession(
  placed: readonly PlacedSource<EventSource>[],
): readonly SessionEvent[] {
  const events = placed.flatMap(({ source, toSession }) =>
    source.entries.map(
      (entry): SessionEvent => ({
        timeS: toSession(entry.sourceS),
        endS: entry.sourceEndS === null ? null : toSession(entry.sourceEndS),
        source: source.file,
        line: entry.line,
        event: entry.event,
        text: entry.text,
        speaker: entry.speaker,
      }),
    ),
  );
  return events.sort((a, b) => a.timeS - b.timeS);
}

/** What is said about a source beside its clock. */
export function sourceReport(placed: PlacedSource): SourceReport {
  const { source, clock, toSession } = placed;
  const ends: readonly (number | undefined)[] =
    source.type === 'telemetry'
      ? [source.tS[0], source.tS[source.tS.length - 1]]
      : entryEnds(source);
  const [first, last] = ends;
  return {
    file: source.file,
    sha256: source.sha256,
    type: source.type,
    rowsRead: source.rowsRead,
    rowsRejected: source.rowsRejected,
    clock,
    coverage:
      first === undefined || last === undefined ? null : [toSession(first), toSession(last)],
  };
}

function entryEnds(source: EventSource): readonly (number | undefined)[] {
  let first: number | undefined;
  let last: number | undefined;
  for (const { sourceS } of source.entries) {
    if (first === undefined || sourceS < first) first = sourceS;
    if (last === undefined || sourceS > last) last = sourceS;
  }
  return [first, last];
}
