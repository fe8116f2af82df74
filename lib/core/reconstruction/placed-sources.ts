/** Sources on session time. */
import { alignClock } from '../callouts/align-clock';
import {
  type AlignOptions,
  type ClockWord,
  eventWords,
  handWords,
  type KnownInstant,
  rangeWords,
} from '../callouts/clock-words';
import { findEventCalls } from '../callouts/event-calls';
import type { RangeTrack } from '../callouts/range-passes';
import type { ReviewedValue } from '../callouts/review-callouts';
import { type ClockSolution, statedClock } from '../clock/clock-solution';
import { toSessionSeconds } from '../clock/clock-terms';
import { resolveClock } from '../clock/resolve-clock';
import type { HandTie } from '../session/clock-correction';
import { DEFAULT_ALIGNMENT } from '../session/read-time-spec';
import type { EventSource, SessionSource, TelemetrySource } from '../session/session-input';
import type { SessionEvent } from './reconstruction';
import { clockFit, evidenceBeside } from './source-clock';
import type { ClockFit, SourceReport } from './source-report';
import { type SpokenContradiction, spokenContradiction } from './spoken-contradiction';

/** A source with the way from its own time to session time. */
export type PlacedSource<S extends SessionSource = SessionSource> = Readonly<{
  source: S;
  solution: ClockSolution;
  clock: ClockFit;
  toSession: (sourceS: number) => number;
  /** Where what is spoken in it contradicts its clock or the telemetry; null for anything else. */
  contradiction: SpokenContradiction | null;
}>;

function placedBy<S extends SessionSource>(source: S, solution: ClockSolution): PlacedSource<S> {
  return {
    source,
    solution,
    clock: clockFit(source, solution),
    toSession: (sourceS) => toSessionSeconds(solution, sourceS),
    contradiction: null,
  };
}

const IDENTITY = { offsetS: 0, driftPpm: 0 };

/**
 * Telemetry by the clock its session file states, or by tie points set by hand. Its own words cannot
 * align it: it has none.
 */
export function placeTelemetry(
  source: TelemetrySource,
  byHand: readonly HandTie[],
): PlacedSource<TelemetrySource> {
  if (source.clock.kind === 'callouts' && byHand.length === 0) {
    const reason = 'telemetry holds no spoken ranges; taken as session time';
    return placedBy(source, statedClock(IDENTITY, reason));
  }
  const spec = source.clock.kind === 'callouts' ? GIVEN_IDENTITY : source.clock;
  return placedBy(source, resolveClock(spec, byHand));
}

const GIVEN_IDENTITY = { kind: 'given', ...IDENTITY } as const;

/** What a log is held against: the estimated range, and instants known without the log. */
export type LogMeasure = Readonly<{
  track: RangeTrack | null;
  known: readonly KnownInstant[];
}>;

/** What people and the log itself say about its clock. */
export type LogWords = Readonly<{
  spoken: readonly ReviewedValue[];
  byHand: readonly HandTie[];
}>;

/**
 * A log by the clock its session file states, or by what is spoken in it.
 *
 * @param source the log
 * @param said values found in its words, as people judged them, and tie points set by hand
 * @param measure what the motion shows
 */
export function placeLog(
  source: EventSource,
  said: LogWords,
  measure: LogMeasure,
): PlacedSource<EventSource> {
  const { clock } = source;
  const lag = clock.kind === 'callouts' ? clock : DEFAULT_ALIGNMENT;
  const words = [
    ...rangeWords(said.spoken, lag),
    ...eventWords(findEventCalls(source.entries), measure.known, lag),
  ];
  if (clock.kind === 'callouts') {
    const all = [...words, ...handWords(said.byHand)];
    const hasMeasure = measure.track !== null || said.byHand.length > 0;
    const placed = placedBy(
      source,
      hasMeasure
        ? alignClock(all, measure.track, lag)
        : statedClock(IDENTITY, 'no range was estimated to hold the spoken ranges against'),
    );
    return withContradiction(placed, words, { ...measure, lag, basis: 'spoken' });
  }
  const stated = placedBy(source, resolveClock(clock, said.byHand));
  const placed = withContradiction(stated, words, { ...measure, lag, basis: 'stated' });
  if (measure.track === null || placed.clock.evidence !== null) return placed;
  const evidence = evidenceBeside(words, measure.track, placed.solution);
  return { ...placed, clock: { ...placed.clock, evidence } };
}

/** The log with what its words contradict, where there is a measured range. */
function withContradiction(
  placed: PlacedSource<EventSource>,
  words: readonly ClockWord[],
  by: Readonly<{ track: RangeTrack | null; lag: AlignOptions; basis: 'stated' | 'spoken' }>,
): PlacedSource<EventSource> {
  const { track, lag, basis } = by;
  if (track === null) return placed;
  const { solution } = placed;
  return { ...placed, contradiction: spokenContradiction(words, { track, solution, lag, basis }) };
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
