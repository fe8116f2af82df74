/** Faults of one telemetry file with what people said of them, and what may be said. */
import { FAULT_WORDS } from '../core/reconstruction/kind-words';
import type { DataFault, Reconstruction } from '../core/reconstruction/reconstruction';
import type { StretchCorrection } from '../core/session/stretch-correction';
import { type CorrectionRow, type KeptWord, keptRow } from './clock/correction-list';
import { timelineHref } from './figure-view';
import { formatSessionTime, formatStretch } from './format-time';

export type KeptStretch = KeptWord<StretchCorrection>;

/** A fault that a person may overrule: its samples are in no figure until somebody keeps them. */
export type OverruledFault = Readonly<{
  key: string;
  kind: string;
  channel: string;
  when: string;
  href: string;
  note: string;
  /** The stretch as the form takes it; null where there is nothing to keep. */
  stretch: Readonly<{ from: string; to: string }> | null;
}>;

export type StretchesView = Readonly<{
  file: string;
  columns: readonly string[];
  faults: readonly OverruledFault[];
  corrections: readonly CorrectionRow[];
}>;

const CAN_BE_KEPT: readonly DataFault['kind'][] = ['frozen', 'saturated', 'spike'];
/** Edges are typed to the tenth of a second: a stretch reaches a little beyond its samples. */
const ROOM_S = 0.05;

function faultRow(fault: DataFault, index: number, sessionId: string): OverruledFault {
  const { kind, channel, startS, endS, note } = fault;
  const isOpen = CAN_BE_KEPT.includes(kind) && note.endsWith('not used');
  return {
    key: `${kind}-${index}`,
    kind: FAULT_WORDS[kind],
    channel: channel ?? 'whole source',
    when: formatStretch(startS, endS),
    href: timelineHref(sessionId, startS, endS),
    note,
    stretch: isOpen
      ? {
          from: formatSessionTime(startS - ROOM_S, 2),
          to: formatSessionTime(endS + ROOM_S, 2),
        }
      : null,
  };
}

function correctionRow(kept: KeptStretch): CorrectionRow {
  const { use, channel, fromS, toS } = kept.correction;
  const what = use === 'keep' ? 'Kept in the figures' : 'Left out of the figures';
  return keptRow(kept, `${what}: ${channel}, ${formatStretch(fromS, toS)}`);
}

type Input = Readonly<{
  file: string;
  columns: readonly string[];
  kept: readonly KeptStretch[];
  sessionId: string;
}>;

/** Everything said and to be said of one file's stretches. */
export function stretchesView(
  reconstruction: Reconstruction | null,
  { file, columns, kept, sessionId }: Input,
): StretchesView {
  const faults = (reconstruction?.dataQuality ?? []).filter(({ source }) => source === file);
  return {
    file,
    columns,
    faults: faults.map((fault, index) => faultRow(fault, index, sessionId)),
    corrections: kept.filter(({ correction }) => correction.source === file).map(correctionRow),
  };
}
