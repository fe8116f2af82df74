/** A resolved document as a page shows it: numbers with their evidence, figures as pictures. */
import { channelWords } from '../../core/debrief/column-label';
import { type Basis, basisRows } from '../../core/debrief/imprint-rows';
import { keepPunctuation } from '../../core/debrief/kept-punctuation';
import { keyWords } from '../../core/debrief/key-words';
import { textParagraphs } from '../../core/debrief/markup';
import type {
  DocumentSource,
  EvidenceEntry,
  FigureBlock,
  FindingBlock,
  NumberRun,
  ResolvedBlock,
  Run,
  TableBlock,
  TableCell,
} from '../../core/debrief/resolved';
import type { SvgNode } from '../../core/debrief/svg-node';
import { drawPlot } from '../../core/debrief/svg-plot';
import { formatNumber } from '../../core/units/number-text';
import { type FigureView, shortHash, timelineHref } from '../figure-view';
import { formatStretch } from '../format-time';

export type RunView =
  | Readonly<{ kind: 'text'; text: string; marks: readonly string[]; href: string | null }>
  /** `after` is punctuation that stays on the number's line. */
  | Readonly<{ kind: 'number'; figure: FigureView; after: string }>
  | Readonly<{ kind: 'break' }>;

export type CellView = Omit<TableCell, 'runs'> & Readonly<{ runs: readonly RunView[] }>;

export type BlockView =
  | Readonly<{
      kind: 'heading';
      id: string;
      level: 1 | 2 | 3;
      number: string;
      runs: readonly RunView[];
    }>
  | Readonly<{ kind: 'paragraph'; id: string; runs: readonly RunView[] }>
  | Readonly<{
      kind: 'list';
      id: string;
      ordered: boolean;
      items: readonly (readonly BlockView[])[];
    }>
  | Readonly<{ kind: 'quote'; id: string; blocks: readonly BlockView[] }>
  | Readonly<{ kind: 'code'; id: string; text: string }>
  | Readonly<{ kind: 'divider'; id: string }>
  | (Omit<TableBlock, 'rows'> & Readonly<{ rows: readonly (readonly CellView[])[] }>)
  | (Omit<FigureBlock, 'plots' | 'evidence'> &
      /** `evidence` null: made before pictures stated theirs. */
      Readonly<{ picture: SvgNode; evidence: FigureView | null }>)
  | (Omit<FindingBlock, 'numbers' | 'seen' | 'change'> &
      Readonly<{
        /** Paragraphs. */
        seen: readonly string[];
        change: readonly string[];
        numbers: readonly Readonly<{ label: string; run: RunView }>[];
      }>)
  | Readonly<{ kind: 'missing'; id: string; message: string }>;

/** What the numbers of a document rest on, and the session they lead back to, if it is there. */
export type DocumentFrame = Readonly<{
  evidence: readonly EvidenceEntry[];
  sources: readonly DocumentSource[];
  sessionId: string | null;
  basis: Basis;
}>;

function halfWidth(label: string, size: number | null, unit: string) {
  const text = size === null ? 'not known' : `± ${Number(size.toPrecision(3))} ${unit}`.trim();
  return { label, text };
}

/** What numbers and pictures alike state: method, stretch, channels, files, and what people set. */
function entryView(entry: EvidenceEntry | undefined, frame: DocumentFrame) {
  const { fromS = null, toS = null, people = [] } = entry ?? {};
  const said = [entry?.reason ?? '', ...people].filter((text) => text !== '').join(' ');
  return {
    method: entry?.method ?? '',
    reason: said === '' ? null : said,
    channels: (entry?.channels ?? []).map(channelWords),
    sources: (entry?.sources ?? []).flatMap((index) => {
      const source = frame.sources[index];
      return source === undefined ? [] : [{ ...source, shortHash: shortHash(source.sha256) }];
    }),
    stretch:
      fromS === null || toS === null || frame.sessionId === null
        ? null
        : { text: formatStretch(fromS, toS), href: timelineHref(frame.sessionId, fromS, toS) },
  };
}

/** A number with its evidence; it reads exactly as it was resolved. */
export function numberView(run: NumberRun, frame: DocumentFrame): FigureView {
  const entry = frame.evidence[run.evidence];
  const unit = run.unit === '1' ? '' : run.unit;
  const value = run.value === null ? 'not known' : `${Number(run.value.toPrecision(12))}`;
  return {
    label: run.key === null ? 'Figure' : keyWords(run.key),
    value: run.text,
    uncertainty: null,
    unit: '',
    text: `${value} ${unit}`.trim(),
    parts:
      run.random95 === null && run.systematic95 === null
        ? []
        : [
            halfWidth('from scatter', run.random95, unit),
            halfWidth('stated by the source', run.systematic95, unit),
          ],
    runs: null,
    ...entryView(entry, frame),
  };
}

/** What a picture rests on, opened by a word beside its caption. */
function pictureEvidence(
  { evidence, caption }: FigureBlock,
  frame: DocumentFrame,
): FigureView | null {
  const entry = evidence === undefined ? undefined : frame.evidence[evidence];
  if (entry === undefined) return null;
  const basis = basisRows(frame.basis).map(([term, text]) => ({ term, text }));
  return {
    ...{ label: `Evidence of the figure \u201c${caption}\u201d`, value: 'Evidence', unit: '' },
    ...{ text: '', uncertainty: null, parts: [], runs: null, basis },
    ...entryView(entry, frame),
  };
}

export function runView(run: Run, frame: DocumentFrame, after = ''): RunView {
  if (run.kind === 'number') return { kind: 'number', figure: numberView(run, frame), after };
  return run;
}

function runViews(runs: readonly Run[], frame: DocumentFrame): readonly RunView[] {
  return keepPunctuation(runs).map(({ run, after }) => runView(run, frame, after));
}

function tableView(table: TableBlock, frame: DocumentFrame): BlockView {
  const rows = table.rows.map((cells) =>
    cells.map((cell) => ({ ...cell, runs: runViews(cell.runs, frame) })),
  );
  return { ...table, rows };
}

function figureBlockView(block: FigureBlock, frame: DocumentFrame): BlockView {
  const { plots, ...figure } = block;
  const words = { idPrefix: figure.id, title: figure.caption, description: figure.alt };
  const evidence = pictureEvidence(block, frame);
  return { ...figure, evidence, picture: drawPlot(plots, words) };
}

function findingView({ numbers, ...finding }: FindingBlock, frame: DocumentFrame): BlockView {
  return {
    ...finding,
    seen: textParagraphs(finding.seen),
    change: textParagraphs(finding.change),
    numbers: numbers.map(({ label, run }) => ({ label, run: runView(run, frame) })),
  };
}

/** One block and what it holds, JSON-safe. */
export function blockView(block: ResolvedBlock, frame: DocumentFrame): BlockView {
  switch (block.kind) {
    case 'heading':
    case 'paragraph':
      return { ...block, runs: runViews(block.runs, frame) };
    case 'list':
      return {
        ...block,
        items: block.items.map((item) => item.map((each) => blockView(each, frame))),
      };
    case 'quote':
      return { ...block, blocks: block.blocks.map((each) => blockView(each, frame)) };
    case 'table':
      return tableView(block, frame);
    case 'figure':
      return figureBlockView(block, frame);
    case 'finding':
      return findingView(block, frame);
    default:
      return block;
  }
}

/** `Table 3`, or `Table` while it has no number. */
export function countedLabel(kind: 'Table' | 'Figure', number: number | null): string {
  return number === null || number === 0 ? kind : `${kind} ${formatNumber(number, 0)}`;
}
