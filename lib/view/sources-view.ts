/** What came in: each file with its hash, rows, clock, coverage, channels and faults. */
import { FAULT_WORDS } from '../core/reconstruction/kind-words';
import type { DataFault, Reconstruction } from '../core/reconstruction/reconstruction';
import type { SourceReport } from '../core/reconstruction/source-report';
import type { Issue } from '../core/result';
import type { Stamping } from '../core/session/stamping';
import { formatCount, formatNumber } from '../core/units/number-text';
import { clockHref } from './clock/source-choice';
import { FAULTS_IN_A_PANEL, type FaultRow, faultCounts, faultRow } from './fault-list';
import { type FigureView, figureView, timelineHref } from './figure-view';
import { stampText } from './format-date';
import { formatBytes, plural } from './format-number';
import { formatStretch } from './format-time';
import { stampingText } from './stamping-text';
import { stretchesHref } from './stretches-view';

/** What is kept of a source beside the reconstruction. */
export type KeptSource = Readonly<{
  file: string;
  type: SourceReport['type'];
  sha256: string;
  bytes: number;
  number: number;
  /** When it came, if that was after the session was made. */
  lateAtIso: string | null;
  /** Samples and rejected cells per column, where the file has columns. */
  columns: readonly Readonly<{
    name: string;
    as: string;
    unit: string;
    samples: number;
    rejectedCells: number;
  }>[];
  /** Rows and cells that could not be used, and rows kept out because of their stamps. */
  setAside: Readonly<{ rows: number; cells: number; outOfOrder: number }>;
  /** What is stated of its stamps, its way and when it was there. */
  stamping: Stamping;
  /** Wall seconds of each stage of the import, in their order; empty where none were kept. */
  stageSeconds: Readonly<Record<string, number>>;
}>;

export type ChannelRow = Readonly<{
  column: string;
  quantity: string;
  unit: string;
  samples: string;
  rejected: string;
  faults: string;
}>;

export type SourceView = Readonly<{
  file: string;
  type: string;
  sha256: string;
  version: string | null;
  size: string;
  rows: string;
  rejected: string | null;
  /** What was set aside, with the address of the list. */
  setAside: Readonly<{ text: string; href: string }> | null;
  /** What its stamps mean and when it was there, as stated. */
  stamps: string;
  /** How long the import took, stage by stage. */
  stages: string | null;
  coverage: Readonly<{ from: number; to: number; text: string; href: string }> | null;
  gaps: readonly Readonly<{ from: number; to: number }>[];
  clock: Readonly<{
    offset: FigureView;
    drift: FigureView;
    residual: string;
    ties: string;
    reason: string | null;
    /** The screen of what it rests on, where a tie point can be set. */
    href: string;
    hrefText: string;
  }> | null;
  channels: readonly ChannelRow[];
  /** The first faults in time order. */
  faults: readonly FaultRow[];
  /** Where all of them are, with how many of each kind; null where the first are all. */
  allFaults: Readonly<{ counts: string; text: string; href: string }> | null;
}>;

const TYPES: Readonly<Record<SourceReport['type'], string>> = {
  telemetry: 'telemetry',
  events: 'event or voice log',
  ephemeris: 'ephemeris, kept and not used yet',
};

/** One view a kept file, in the order kept; a file the reconstruction did not use has no clock. */
export function sourcesView(
  kept: readonly KeptSource[],
  reconstruction: Reconstruction | null,
  sessionId: string,
): readonly SourceView[] {
  const lengthS = sessionLength(reconstruction);
  return kept.map((source) => {
    const report = reconstruction?.sources.find(({ file }) => file === source.file);
    const faults = (reconstruction?.dataQuality ?? []).filter((f) => f.source === source.file);
    const place = (timeS: number) => Math.min(1, Math.max(0, timeS / lengthS));
    const coverage = report?.coverage ?? null;
    return {
      file: source.file,
      type: TYPES[source.type],
      sha256: source.sha256,
      version: source.number > 1 ? `version ${source.number}` : null,
      size: formatBytes(source.bytes),
      rows: report === undefined ? 'not read' : formatCount(report.rowsRead),
      rejected:
        report === undefined || report.rowsRejected === 0 ? null : formatCount(report.rowsRejected),
      setAside: setAsideView(source, sessionId),
      stamps: stampingText(source.stamping),
      stages: stagesText(source.stageSeconds),
      coverage:
        coverage === null
          ? null
          : {
              from: place(coverage[0]),
              to: place(coverage[1]),
              text: formatStretch(coverage[0], coverage[1], 0),
              href: timelineHref(sessionId, coverage[0], coverage[1]),
            },
      gaps: faults
        .filter((fault) => fault.kind === 'gap')
        .map((fault) => ({ from: place(fault.startS), to: place(fault.endS) })),
      clock: report === undefined ? null : clockView(report, sessionId),
      channels: source.columns.map((column) => ({
        column: column.name,
        quantity: column.as === column.name ? '' : column.as,
        unit: column.unit,
        samples: formatCount(column.samples),
        rejected: column.rejectedCells === 0 ? '' : formatCount(column.rejectedCells),
        faults: channelFaults(faults, column.name),
      })),
      faults: faults
        .slice(0, FAULTS_IN_A_PANEL)
        .map((fault, index) => faultRow(fault, index, sessionId)),
      allFaults: allFaults(faults, source.file, sessionId),
    };
  });
}

function allFaults(
  faults: readonly DataFault[],
  file: string,
  sessionId: string,
): SourceView['allFaults'] {
  if (faults.length <= FAULTS_IN_A_PANEL) return null;
  return {
    counts: faultCounts(faults),
    text: `all ${formatCount(faults.length)} faults`,
    href: stretchesHref(sessionId, file),
  };
}

/** One line of what was expected and what came of it. */
export type InventoryRow = Readonly<{
  file: string;
  state: 'received' | 'received late' | 'replaced' | 'awaited' | 'lost';
  note: string;
}>;

function receivedRow({ file, number, lateAtIso }: KeptSource): InventoryRow {
  const when = lateAtIso === null ? '' : stampText(lateAtIso);
  if (number > 1) return { file, state: 'replaced', note: `version ${number}, ${when}` };
  return { file, state: lateAtIso === null ? 'received' : 'received late', note: when };
}

/** What session.yaml names: there, late, replaced, awaited or lost. */
export function inventoryView(
  kept: readonly KeptSource[],
  notes: readonly Pick<Issue, 'code' | 'file' | 'message'>[],
): readonly InventoryRow[] {
  const absent = notes.flatMap(({ code, file = '', message }): InventoryRow[] => {
    if (code === 'source-awaited') return [{ file, state: 'awaited', note: message }];
    return code === 'source-lost' ? [{ file, state: 'lost', note: message }] : [];
  });
  const received = kept.map(receivedRow).map((row): InventoryRow => {
    const early = notes.find(({ code, file }) => code === 'log-ends-early' && file === row.file);
    const said = [row.note, early?.message ?? ''].filter((text) => text !== '');
    return { ...row, note: said.join('; ') };
  });
  return [...received, ...absent];
}

/** What is to be said of the files: what their words contradict, then what the import said. */
export function remarksOf(imported: readonly Issue[], notes: readonly Issue[]): readonly Issue[] {
  return [...notes.filter(({ code }) => code.startsWith('spoken-against-')), ...imported];
}

/** `names` can be replaced one by one; each of `folders` holds so many files that it is told as one. */
export type OtherFilesView = Readonly<{
  names: readonly string[];
  folders: readonly Readonly<{ folder: string; text: string }>[];
}>;

/** A folder with more files than this is one line: two hundred simulator runs are not read one by one. */
const MOST_IN_FOLDER = 12;

/** Files of the folder that are no source: the description, the plan, the rules, simulator runs. */
export function otherFiles(
  all: readonly string[],
  kept: readonly Pick<KeptSource, 'file'>[],
): OtherFilesView {
  const others = all.filter((name) => !kept.some(({ file }) => file === name));
  const folderOf = (name: string): string => name.slice(0, name.lastIndexOf('/') + 1);
  const inFolder = new Map<string, string[]>();
  for (const name of others) {
    inFolder.set(folderOf(name), [...(inFolder.get(folderOf(name)) ?? []), name]);
  }
  const large = [...inFolder].filter(
    ([folder, names]) => folder !== '' && names.length > MOST_IN_FOLDER,
  );
  return {
    names: others.filter((name) => !large.some(([folder]) => folder === folderOf(name))),
    folders: large.map(([folder, names]) => {
      const short = names.map((name) => name.slice(folder.length));
      return { folder, text: `${plural(names.length, 'file')}, ${short[0]} to ${short.at(-1)}` };
    }),
  };
}

function setAsideView({ file, setAside }: KeptSource, sessionId: string): SourceView['setAside'] {
  const { rows, cells, outOfOrder } = setAside;
  if (rows + cells + outOfOrder === 0) return null;
  const counted = [
    rows > 0 ? plural(rows, 'row') : '',
    cells > 0 ? plural(cells, 'cell') : '',
    outOfOrder > 0 ? `${plural(outOfOrder, 'row')} out of order` : '',
  ].filter((part) => part !== '');
  const text = `${[counted.slice(0, -1).join(', '), ...counted.slice(-1)].filter((part) => part !== '').join(' and ')} set aside, as CSV`;
  const address = `/sessions/${encodeURIComponent(sessionId)}/sources/rejects`;
  return { text, href: `${address}?file=${encodeURIComponent(file)}` };
}

const STAGES: Readonly<Record<string, string>> = {
  hash: 'hash',
  head: 'head',
  data: 'rows',
  check: 'check',
  levels: 'zoom levels',
  seal: 'seal',
};

function stagesText(seconds: KeptSource['stageSeconds']): string | null {
  const stages = Object.entries(seconds);
  if (stages.length === 0) return null;
  const parts = stages.map(([stage, s]) => `${STAGES[stage] ?? stage} ${formatNumber(s, 2)} s`);
  const total = stages.reduce((sum, [, s]) => sum + s, 0);
  return `${formatNumber(total, 2)} s: ${parts.join(', ')}`;
}

/** Length of the session's time axis, s; never zero. */
function sessionLength(reconstruction: Reconstruction | null): number {
  const ends = (reconstruction?.sources ?? []).map((source) => source.coverage?.[1] ?? 0);
  return Math.max(1e-9, reconstruction?.session.durationS.value ?? 0, ...ends);
}

function clockView({ clock, file }: SourceReport, sessionId: string): SourceView['clock'] {
  const ties = clock.tiePointsUsed + clock.tiePointsRejected;
  return {
    offset: figureView(clock.offsetS, {
      sessionId,
      label: `${file}, clock offset`,
      form: 'signed',
    }),
    drift: figureView(clock.driftPpm, { sessionId, label: `${file}, clock drift`, form: 'signed' }),
    residual: clock.residualRmsS === null ? 'none' : `${formatNumber(clock.residualRmsS, 2)} s rms`,
    ties: ties === 0 ? 'as stated' : `${clock.tiePointsUsed} of ${ties} tie points used`,
    reason: clock.reason,
    href: clockHref(sessionId, file),
    hrefText: clock.evidence === null ? 'Set a tie point by hand' : 'Look at its clock',
  };
}

function channelFaults(faults: readonly DataFault[], column: string): string {
  const counts = new Map<string, number>();
  for (const fault of faults.filter(({ channel }) => channel === column)) {
    counts.set(FAULT_WORDS[fault.kind], (counts.get(FAULT_WORDS[fault.kind]) ?? 0) + 1);
  }
  return [...counts].map(([name, count]) => (count === 1 ? name : `${name} ×${count}`)).join(', ');
}
