/** Faults of one telemetry file with what people said of them, and what may be said. */
import type { DataFault, Reconstruction } from '../core/reconstruction/reconstruction';
import type { StretchCorrection } from '../core/session/stretch-correction';
import { formatCount } from '../core/units/number-text';
import { type CorrectionRow, type KeptWord, keptRow } from './clock/correction-list';
import { FAULTS_A_PAGE, type FaultRow, faultCounts, faultRow } from './fault-list';
import { formatSessionTime, formatStretch } from './format-time';

export type KeptStretch = KeptWord<StretchCorrection>;

/** A fault that a person may overrule: its samples are in no figure until somebody keeps them. */
export type OverruledFault = FaultRow &
  Readonly<{
    /** The stretch as the form takes it; null where there is nothing to keep. */
    stretch: Readonly<{ from: string; to: string }> | null;
  }>;

/** Where a page of the list stands; the addresses are null at the ends. */
export type Pages = Readonly<{ text: string; before: string | null; after: string | null }>;

export type StretchesView = Readonly<{
  file: string;
  columns: readonly string[];
  /** The faults of one page, in time order. */
  faults: readonly OverruledFault[];
  /** How many of each kind the file has; empty for none. */
  counts: string;
  pages: Pages;
  corrections: readonly CorrectionRow[];
}>;

const CAN_BE_KEPT: readonly DataFault['kind'][] = ['frozen', 'saturated', 'spike'];
/** Edges are typed to the tenth of a second: a stretch reaches a little beyond its samples. */
const ROOM_S = 0.05;

function overruledFault(fault: DataFault, index: number, sessionId: string): OverruledFault {
  const { kind, startS, endS, note } = fault;
  const isOpen = CAN_BE_KEPT.includes(kind) && note.endsWith('not used');
  return {
    ...faultRow(fault, index, sessionId),
    stretch: isOpen
      ? {
          from: formatSessionTime(startS - ROOM_S, 2),
          to: formatSessionTime(endS + ROOM_S, 2),
        }
      : null,
  };
}

/** Address of a file's stretches and of one page of its faults, counted from 1. */
export function stretchesHref(sessionId: string, file: string, page = 1): string {
  const query = new URLSearchParams({ file });
  if (page > 1) query.set('page', String(page));
  return `/sessions/${sessionId}/sources/stretches?${query}`;
}

/** The page that an address names, the nearest there is. */
export function readPage(text: string | undefined, count: number): number {
  const last = Math.max(1, Math.ceil(count / FAULTS_A_PAGE));
  const asked = Number(text ?? '1');
  return Number.isInteger(asked) ? Math.min(last, Math.max(1, asked)) : 1;
}

function pagesOf(page: number, count: number, hrefOf: (page: number) => string): Pages {
  const from = (page - 1) * FAULTS_A_PAGE;
  const to = Math.min(count, from + FAULTS_A_PAGE);
  return {
    text: `${formatCount(from + 1)} to ${formatCount(to)} of ${formatCount(count)}`,
    before: page > 1 ? hrefOf(page - 1) : null,
    after: to < count ? hrefOf(page + 1) : null,
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
  /** The page of the list as its address says it. */
  page: string | undefined;
}>;

/** Everything said and to be said of one file's stretches. */
export function stretchesView(
  reconstruction: Reconstruction | null,
  { file, columns, kept, sessionId, page: asked }: Input,
): StretchesView {
  const faults = (reconstruction?.dataQuality ?? []).filter(({ source }) => source === file);
  const page = readPage(asked, faults.length);
  const from = (page - 1) * FAULTS_A_PAGE;
  return {
    file,
    columns,
    faults: faults
      .slice(from, from + FAULTS_A_PAGE)
      .map((fault, index) => overruledFault(fault, from + index, sessionId)),
    counts: faultCounts(faults),
    pages: pagesOf(page, faults.length, (each) => stretchesHref(sessionId, file, each)),
    corrections: kept.filter(({ correction }) => correction.source === file).map(correctionRow),
  };
}
