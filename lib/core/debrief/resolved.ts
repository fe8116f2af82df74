/**
 * A document with everything in it decided: numbers as text and as doubles, figures as points,
 * headings, figures and tables numbered. Plain JSON; every exporter reads only this.
 */
import type { Plot } from './plot';

/** How a piece of text is set. */
export type TextMark = 'bold' | 'italic' | 'underline' | 'strike' | 'code';

export type TextRun = Readonly<{
  kind: 'text';
  text: string;
  marks: readonly TextMark[];
  href: string | null;
}>;

/**
 * A number with where it comes from. `value` and the half-widths are in `unit`, the core's own (SI,
 * radians); `text` is what people read. `evidence` is an index into the document's evidence.
 */
export type NumberRun = Readonly<{
  kind: 'number';
  text: string;
  key: string | null;
  value: number | null;
  unit: string;
  random95: number | null;
  systematic95: number | null;
  evidence: number;
}>;

export type BreakRun = Readonly<{ kind: 'break' }>;
/** A piece of a line. */
export type Run = TextRun | NumberRun | BreakRun;

/**
 * How a number was made. `sources` are indices into the document's sources; `people` is what people set
 * that it rests on, absent where all of it was computed.
 */
export type EvidenceEntry = Readonly<{
  method: string;
  channels: readonly string[];
  fromS: number | null;
  toS: number | null;
  sources: readonly number[];
  reason: string | null;
  people?: readonly string[];
}>;

export type DocumentSource = Readonly<{ file: string; sha256: string }>;

/** What a row or a cell says beyond its words; never the only sign of it. */
export type Tone = 'beyond' | 'inside' | 'unsure' | 'plain';

/** A cell of a table; `tone` colours it beside its words, never instead of them. */
export type TableCell = Readonly<{
  runs: readonly Run[];
  header: boolean;
  colspan: number;
  rowspan: number;
  tone: Tone;
}>;

export type TableColumn = Readonly<{ label: string; align: 'start' | 'end' }>;

export type HeadingBlock = Readonly<{
  kind: 'heading';
  id: string;
  level: 1 | 2 | 3;
  number: string;
  runs: readonly Run[];
}>;
export type ParagraphBlock = Readonly<{ kind: 'paragraph'; id: string; runs: readonly Run[] }>;
export type ListBlock = Readonly<{
  kind: 'list';
  id: string;
  ordered: boolean;
  items: readonly (readonly ResolvedBlock[])[];
}>;
export type QuoteBlock = Readonly<{ kind: 'quote'; id: string; blocks: readonly ResolvedBlock[] }>;
export type CodeBlock = Readonly<{ kind: 'code'; id: string; text: string }>;
export type DividerBlock = Readonly<{ kind: 'divider'; id: string }>;

/** `number` is null for a table without caption, which is not counted. `columns` may be empty. */
export type TableBlock = Readonly<{
  kind: 'table';
  id: string;
  number: number | null;
  caption: string;
  columns: readonly TableColumn[];
  rows: readonly (readonly TableCell[])[];
  note: string;
}>;

export type FigureBlock = Readonly<{
  kind: 'figure';
  id: string;
  number: number | null;
  caption: string;
  alt: string;
  plots: readonly Plot[];
  /** Index into the document's evidence; absent in records made before pictures had theirs. */
  evidence?: number;
}>;

export type FindingBlock = Readonly<{
  kind: 'finding';
  id: string;
  number: number;
  title: string;
  about: string;
  severity: string;
  state: string;
  fromS: number;
  toS: number;
  stretch: string;
  channels: readonly string[];
  seen: string;
  change: string;
  author: string;
  numbers: readonly Readonly<{ label: string; run: NumberRun }>[];
}>;

/** A block that points at something that is not there; publishing is refused while one stands. */
export type MissingBlock = Readonly<{ kind: 'missing'; id: string; message: string }>;

/** A block without anything live in it: what every exporter draws. */
export type ResolvedBlock =
  | HeadingBlock
  | ParagraphBlock
  | ListBlock
  | QuoteBlock
  | CodeBlock
  | DividerBlock
  | TableBlock
  | FigureBlock
  | FindingBlock
  | MissingBlock;

/** Body of a document with what its numbers rest on. */
export type ResolvedDocument = Readonly<{
  blocks: readonly ResolvedBlock[];
  evidence: readonly EvidenceEntry[];
  sources: readonly DocumentSource[];
}>;
