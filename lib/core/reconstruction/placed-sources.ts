/** Sources on session time. */
import type { EventSource, SessionSource, TelemetrySource } from '../session/session-input';
import { figureOf } from './figure-of';
import type { ClockFit, SessionEvent, SourceReport } from './reconstruction';

/** A source with the way from its own time to session time. */
export type PlacedSource<S extends SessionSource = SessionSource> = Readonly<{
  source: S;
  clock: ClockFit;
  toSession: (sourceS: number) => number;
}>;

/** Session = offset + source x (1 + drift). */
export function placeSource<S extends SessionSource>(source: S): PlacedSource<S> {
  const offsetS = source.clock.kind === 'given' ? source.clock.offsetS : 0;
  const driftPpm = source.clock.kind === 'given' ? source.clock.driftPpm : 0;
  const origin = { sources: [{ file: source.file, sha256: source.sha256 }], channels: [] };
  const method = 'As stated in the session file.';
  const rate = 1 + driftPpm * 1e-6;
  return {
    source,
    clock: {
      offsetS: figureOf(origin, { value: offsetS, unit: 's', random: null, method }),
      driftPpm: figureOf(origin, { value: driftPpm, unit: 'ppm', random: null, method }),
      residualRmsS: null,
      tiePointsUsed: 0,
      tiePointsRejected: 0,
      reason: null,
    },
    toSession: (sourceS) => offsetS + sourceS * rate,
  };
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
