/** What a block may use while it is resolved, and the book in which it enters where numbers come from. */
import type { Evidence, EvidenceSource, Figure } from '../figure';
import { type DebriefMaterial, unitForKey } from './debrief-material';
import { type FigureTextOptions, figureText } from './figure-text';
import { plainText } from './markup';
import type { DocumentSource, EvidenceEntry, NumberRun, Run, TableCell, TextRun } from './resolved';

/** Numbers' evidence, each stated once and pointed at by index. */
export type EvidenceBook = Readonly<{
  enter: (figure: Figure) => number;
  evidence: () => readonly EvidenceEntry[];
  sources: () => readonly DocumentSource[];
}>;

/** An empty book that already knows the session's source files, in their order. */
export function openEvidenceBook(known: readonly EvidenceSource[]): EvidenceBook {
  const sources: DocumentSource[] = [];
  const sourceAt = new Map<string, number>();
  const entries: EvidenceEntry[] = [];
  const entryAt = new Map<string, number>();
  const sourceIndex = ({ file, sha256 }: EvidenceSource): number => {
    const key = JSON.stringify([file, sha256]);
    const found = sourceAt.get(key);
    if (found !== undefined) return found;
    sourceAt.set(key, sources.length);
    sources.push({ file: plainText(file), sha256 });
    return sources.length - 1;
  };
  const entryOf = (figure: Figure, evidence: Evidence): EvidenceEntry => ({
    method: plainText(withRuns(figure.method, evidence)),
    channels: evidence.channels.map(plainText),
    fromS: evidence.fromS,
    toS: evidence.toS,
    sources: evidence.sources.map(sourceIndex),
    reason: figure.reason === undefined ? null : plainText(figure.reason),
    ...(evidence.people === undefined ? {} : { people: evidence.people.map(plainText) }),
  });
  for (const source of known) sourceIndex(source);
  return {
    enter: (figure) => {
      const entry = entryOf(figure, figure.evidence);
      const key = JSON.stringify(entry);
      const found = entryAt.get(key);
      if (found !== undefined) return found;
      entryAt.set(key, entries.length);
      entries.push(entry);
      return entries.length - 1;
    },
    evidence: () => entries,
    sources: () => sources,
  };
}

/** Where simulator runs are behind a number, which they are stands with its method. */
function withRuns(method: string, { runs }: Evidence): string {
  return runs === undefined ? method : `${method} Of ${runs}.`;
}

/** What resolving needs: the material, and the book that collects evidence as it is quoted. */
export type ResolveContext = Readonly<{ material: DebriefMaterial; book: EvidenceBook }>;

/** A run of plain words, made safe to show. */
export function textRun(text: string): TextRun {
  return { kind: 'text', text: plainText(text.normalize('NFC')), marks: [], href: null };
}

/** A figure as a run, its evidence entered in the book. */
export function numberRun(
  context: ResolveContext,
  figure: Figure,
  options: FigureTextOptions & Readonly<{ key?: string }> = {},
): NumberRun {
  const finite = (value: number | null | undefined): number | null =>
    typeof value === 'number' && Number.isFinite(value) ? value : null;
  return {
    kind: 'number',
    text: figureText(figure, options),
    key: options.key ?? null,
    value: finite(figure.value),
    unit: figure.unit,
    random95: finite(figure.uncertainty?.random),
    systematic95: finite(figure.uncertainty?.systematic),
    evidence: context.book.enter(figure),
  };
}

/** The figure of a key as a run, in the unit its rule was written in; null where there is none. */
export function keyRun(
  context: ResolveContext,
  key: string,
  options: FigureTextOptions = {},
): NumberRun | null {
  const figure = context.material.figures.get(key);
  if (figure === undefined) return null;
  const unit = options.unit ?? unitForKey(context.material.reconstruction, key);
  return numberRun(context, figure, { ...options, unit, key });
}

/** A cell of a table from runs, or from words. */
export function cell(content: string | Run | null, tone: TableCell['tone'] = 'plain'): TableCell {
  const run = typeof content === 'string' ? textRun(content) : content;
  return {
    runs: run === null ? [textRun('\u2013')] : [run],
    header: false,
    colspan: 1,
    rowspan: 1,
    tone,
  };
}

/** The first cell of a row, which names it. */
export function rowHeader(text: string): TableCell {
  return { ...cell(text), header: true };
}
