/** A session cut down to what was there in real time by an instant. */
import { handTiesOf } from '../session/clock-correction';
import type {
  EventSource,
  LogEntry,
  SessionInput,
  TelemetrySource,
} from '../session/session-input';
import { stampingOf, thereAfterS } from '../session/stamping';
import { placeTelemetry } from './placed-sources';
import { sessionContext } from './session-context';

/** What became of a source: used, known to come later, or without anything by then. */
export type SourceUse = Readonly<{
  file: string;
  type: 'telemetry' | 'events';
  use: 'used' | 'arrived afterwards' | 'nothing by then';
  /** Whether the session file states when it is available; real-time is taken where not. */
  isStated: boolean;
}>;

export type KnownBy = Readonly<{ input: SessionInput; uses: readonly SourceUse[] }>;

function rowsBy(source: TelemetrySource, input: SessionInput, atS: number): number {
  const placed = placeTelemetry(source, handTiesOf(input.clockCorrections ?? [], source.file));
  const laterS = thereAfterS(stampingOf(source));
  let low = 0;
  let high = source.tS.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (placed.toSession(source.tS[middle] ?? Number.NaN) + laterS <= atS) low = middle + 1;
    else high = middle;
  }
  return low;
}

function cutTelemetry(source: TelemetrySource, rows: number): TelemetrySource {
  const lastS = source.tS[rows - 1] ?? Number.NaN;
  return {
    ...source,
    tS: source.tS.subarray(0, rows),
    channels: source.channels.map((channel) => ({
      ...channel,
      values: channel.values.subarray(0, rows),
    })),
    stampFaults: source.stampFaults.filter(({ endS }) => endS <= lastS),
  };
}

/** Logs with the entries known by then, each on its own clock as far as that was known by then. */
function cutLogs(
  input: SessionInput,
  telemetry: readonly TelemetrySource[],
  logs: readonly EventSource[],
  atS: number,
): readonly EventSource[] {
  let known = logs;
  // A clock found from what was said is found again without what was said later.
  const passes = logs.some(({ clock }) => clock.kind === 'callouts') ? 2 : 1;
  for (let pass = 0; pass < passes; pass++) {
    const rows = passes === 1 ? [] : telemetry;
    const { logs: placed } = sessionContext({ ...input, sources: [...rows, ...known] });
    known = known.map((log, index) => {
      const toSession = placed[index]?.placed.toSession ?? (() => Number.NaN);
      const laterS = thereAfterS(stampingOf(log));
      const isThere = ({ sourceS }: LogEntry): boolean => toSession(sourceS) + laterS <= atS;
      return { ...log, entries: log.entries.filter(isThere) };
    });
  }
  return known;
}

/**
 * What was known at an instant: rows and entries of real-time sources that had been received by then.
 *
 * Sources that arrived afterwards are left out whole. What people said about stretches and phases is left
 * out, because they said it afterwards; what they said about clocks stays, because it tells when a row was
 * there. A row or entry is there at its stamp plus the source's latency, at its stamp where the stamp
 * is that of its reception.
 *
 * @param input the whole session
 * @param atS the instant, session time
 * @returns the cut session, and what became of each source in the order of the session file
 */
export function knownBy(input: SessionInput, atS: number): KnownBy {
  const { stretchCorrections: _, phaseEdits: __, ...kept } = input;
  const uses: SourceUse[] = [];
  const telemetry: TelemetrySource[] = [];
  const candidates = input.sources.filter(
    (source): source is EventSource =>
      source.type === 'events' && stampingOf(source).available !== 'afterwards',
  );
  for (const source of input.sources) {
    if (source.type !== 'telemetry' || stampingOf(source).available === 'afterwards') continue;
    const rows = rowsBy(source, input, atS);
    // Two rows are the least that tell a step of time.
    if (rows >= 2) telemetry.push(cutTelemetry(source, rows));
  }
  const logs = cutLogs(kept, telemetry, candidates, atS);
  const cut: SessionInput = { ...kept, sources: [...telemetry, ...logs] };
  for (const source of input.sources) {
    const { file, type } = source;
    const { available } = stampingOf(source);
    const known = cut.sources.find((one) => one.file === file);
    const isEmpty = known === undefined || (known.type === 'events' && known.entries.length === 0);
    const rest = isEmpty ? 'nothing by then' : 'used';
    const use = available === 'afterwards' ? 'arrived afterwards' : rest;
    uses.push({ file, type, use, isStated: available !== null });
  }
  return { input: cut, uses };
}
