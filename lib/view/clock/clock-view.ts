/** The clock of one source: how it came about, log and telemetry side by side, what people said of it. */
import type { Reconstruction, SessionEvent } from '../../core/reconstruction/reconstruction';
import type { SourceReport } from '../../core/reconstruction/source-report';
import { fieldTime } from '../timeline-readout';
import { type ClockDrawing, clockDrawing, type RangeEnvelope } from './clock-drawing';
import { type ClockFacts, clockFacts } from './clock-facts';
import { clockItems, type OwnTime, ownTime } from './clock-items';
import { type ClockRow, clockRow } from './clock-rows';
import { type CorrectionRow, correctionRows, type KeptWord } from './correction-list';

export type ClockView = Readonly<{
  file: string;
  isLog: boolean;
  facts: ClockFacts;
  drawing: ClockDrawing | null;
  rows: readonly ClockRow[];
  /** Entries of the log to choose a source time from; `entriesNote` says where there are more. */
  entries: readonly Readonly<{ key: string; time: string; words: string }>[];
  entriesNote: string | null;
  corrections: readonly CorrectionRow[];
}>;

export type ClockViewInput = Readonly<{
  reconstruction: Reconstruction;
  source: SourceReport;
  sessionId: string;
  range: RangeEnvelope | null;
  kept: readonly KeptWord[];
}>;

/** More than a browser's own list shows with ease. */
const MOST_ENTRIES = 1500;
const LONGEST_WORDS = 120;

export function clockView(input: ClockViewInput): ClockView {
  const { reconstruction, source, sessionId, range } = input;
  const { file } = source;
  const items = clockItems(reconstruction, source);
  const events = reconstruction.events.filter((event) => event.source === file);
  const lagS = source.clock.evidence?.lag?.lagS ?? 0;
  const hasEvidence = source.clock.evidence !== null;
  return {
    file,
    isLog: source.type === 'events',
    facts: clockFacts(source, items, sessionId),
    drawing: range === null || !hasEvidence ? null : clockDrawing({ items, range, lagS }),
    rows: items.map((item) => clockRow(item, { file, sessionId })),
    ...entriesOf(events, ownTime(source)),
    corrections: correctionRows(file, input.kept, (line, nth) => {
      const item = items.find(({ callout }) => callout?.line === line && callout.nth === nth);
      return item?.words ?? null;
    }),
  };
}

function entriesOf(
  events: readonly SessionEvent[],
  { toSource }: OwnTime,
): Pick<ClockView, 'entries' | 'entriesNote'> {
  const entries = events
    .slice(0, MOST_ENTRIES)
    .map(({ timeS, line, speaker, text, event }, index) => {
      const words = [speaker, text ?? event].filter((part) => part !== null).join(': ');
      const time = fieldTime(toSource(timeS));
      return { key: `${line}-${index}`, time, words: words.slice(0, LONGEST_WORDS) };
    });
  const left = events.length - entries.length;
  const entriesNote =
    left > 0
      ? `The list offers the first ${entries.length} entries of the log; any other time can be typed.`
      : null;
  return { entries, entriesNote };
}
