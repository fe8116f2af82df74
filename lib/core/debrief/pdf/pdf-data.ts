/**
 * A record as the data of the PDF's fixed template. Nothing that a person or a file wrote is ever
 * part of the template: it arrives as JSON and is set as text.
 */
import { utcMinuteText } from '../../time/session-time-text';
import { approvalsText, approvedContentText } from '../approvals';
import { runsText } from '../html/html-runs';
import { textParagraphs } from '../markup';
import { referredIds, targetOf } from '../nodes/block-reference';
import { strangerCommands } from '../package/stranger-commands';
import { type DebriefRecord, recordLabel, type SealedRecord, zeroText } from '../record';
import type { FigureBlock, FindingBlock, ResolvedBlock, Run, TableBlock } from '../resolved';
import { svgPlot } from '../svg-plot';
import { columnWidths } from './column-widths';
import { type GlyphText, wrapped } from './glyph-text';

/** Sizes of paper that a document is set for. */
export const PAPERS = ['a4', 'us-letter'] as const;
export type Paper = (typeof PAPERS)[number];

type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/** What the template reads, and the pictures that it names. */
export type PdfData = Readonly<{
  doc: Json;
  figures: ReadonlyMap<string, string>;
}>;

type Setting = Readonly<{
  text: GlyphText;
  figures: Map<string, string>;
  /** Ids of blocks that references lead to. */
  marks: ReadonlySet<string>;
  /** Those whose mark is set: of two blocks under one id the first has it. */
  marked: Set<string>;
}>;

/** From so many columns on a table is set smaller, and a value may part from its half-width. */
const WIDE_FROM = 6;

function runJson(run: Run, { text, marks }: Setting, width: 'wide' | 'usual'): Json {
  if (run.kind === 'break') return { t: 'br' };
  if (run.kind === 'number') {
    const shown = text(run.text);
    const parts = width === 'wide' ? shown.replace('\u00a0\u00b1', ' \u00b1') : shown;
    return { t: 'num', text: parts };
  }
  const href = run.href !== null && /^(https?:\/\/|mailto:)/i.test(run.href) ? run.href : null;
  const target = targetOf(run);
  const to = target !== null && marks.has(target) ? target : null;
  return { t: 'text', text: wrapped(text(run.text)), marks: run.marks, href, to };
}

/** The mark of a block that references lead to; null for one without any. */
function markOf(id: string, { marks, marked }: Setting): string | null {
  if (!marks.has(id) || marked.has(id)) return null;
  marked.add(id);
  return id;
}

const runsJson = (
  runs: readonly Run[],
  setting: Setting,
  width: 'wide' | 'usual' = 'usual',
): Json => runs.map((run) => runJson(run, setting, width));

function tableJson(table: TableBlock, setting: Setting): Json {
  const width = table.columns.length >= WIDE_FROM ? 'wide' : 'usual';
  const count = Math.max(
    table.columns.length,
    ...table.rows.map((row) => row.reduce((sum, { colspan }) => sum + colspan, 0)),
  );
  return {
    k: 'table',
    mark: markOf(table.id, setting),
    number: table.number,
    caption: setting.text(table.caption),
    wide: width === 'wide',
    columns: columnWidths(table, count),
    align: Array.from({ length: count }, (_, at) => table.columns[at]?.align ?? 'start'),
    head: table.columns.map(({ label }) => setting.text(label)),
    rows: table.rows.map((row) =>
      row.map((cell) => ({
        runs: runsJson(cell.runs, setting, width),
        header: cell.header,
        colspan: cell.colspan,
        rowspan: cell.rowspan,
        tone: cell.tone,
      })),
    ),
    note: setting.text(table.note),
  };
}

function figureJson(figure: FigureBlock, setting: Setting): Json {
  const file = `figure-${setting.figures.size + 1}.svg`;
  const svg = svgPlot(figure.plots, {
    idPrefix: figure.id,
    title: figure.caption,
    description: figure.alt,
    colours: 'plain',
  });
  setting.figures.set(file, setting.text(svg));
  const alt = figure.alt.trim() === '' ? figure.caption : figure.alt;
  const caption = setting.text(figure.caption);
  const mark = markOf(figure.id, setting);
  return { k: 'figure', mark, number: figure.number, caption, alt: setting.text(alt), file };
}

function findingJson(finding: FindingBlock, setting: Setting): Json {
  const { text } = setting;
  const words = (said: string) => textParagraphs(said).map((each) => wrapped(text(each)));
  const channels = finding.channels.length === 0 ? '' : `, ${finding.channels.join(', ')}`;
  return {
    k: 'finding',
    mark: markOf(finding.id, setting),
    title: wrapped(text(`Finding ${finding.number}: ${finding.title}`)),
    facts: wrapped(
      text(
        `${finding.about}, ${finding.severity}, ${finding.state}. ${finding.stretch}${channels}. By ${finding.author}.`,
      ),
    ),
    seen: words(finding.seen),
    change: words(finding.change),
    numbers: finding.numbers.map(({ label, run }) => [text(label), text(run.text)]),
  };
}

function blockJson(block: ResolvedBlock, setting: Setting): Json {
  const inside = (blocks: readonly ResolvedBlock[]) =>
    blocks.map((each) => blockJson(each, setting));
  switch (block.kind) {
    case 'heading':
      return {
        k: 'heading',
        mark: markOf(block.id, setting),
        level: block.level,
        number: block.number,
        text: wrapped(setting.text(runsText(block.runs))),
      };
    case 'paragraph':
      return { k: 'paragraph', runs: runsJson(block.runs, setting) };
    case 'list':
      return { k: 'list', ordered: block.ordered, items: block.items.map(inside) };
    case 'quote':
      return { k: 'quote', blocks: inside(block.blocks) };
    case 'code':
      return { k: 'code', text: wrapped(setting.text(block.text)) };
    case 'divider':
      return { k: 'divider' };
    case 'table':
      return tableJson(block, setting);
    case 'figure':
      return figureJson(block, setting);
    case 'finding':
      return findingJson(block, setting);
    case 'missing':
      return {
        k: 'paragraph',
        runs: [{ t: 'text', text: setting.text(block.message), marks: [], href: null, to: null }],
      };
  }
}

function versionText(version: DebriefRecord['plan']): string {
  if (version === null) return 'none';
  const number = version.number === null ? '' : `, version ${version.number}`;
  return `${version.title}${number}${version.sha256 === null ? '' : `, SHA-256 ${version.sha256}`}`;
}

function madeText({ publishedAtIso, publishedBy, standing }: DebriefRecord): string {
  const when = `${utcMinuteText(publishedAtIso)} by ${publishedBy}`;
  return standing === 'preliminary' ? `no; made on ${when}` : when;
}

function factRows({ record, sha256 }: SealedRecord): readonly (readonly [string, string])[] {
  const { previousSha256, revision, signer } = record;
  const content = approvedContentText(record);
  const first = revision === 0 ? 'nothing' : 'nothing, this is the first revision';
  return [
    ['Plan', versionText(record.plan)],
    ['Rules', versionText(record.ruleSet)],
    ...(record.template === undefined ? [] : [['Template', versionText(record.template)] as const]),
    ['Numerics', `${record.engine}, inputs SHA-256 ${record.inputsSha256}`],
    ['Approvals', approvalsText(record)],
    ...(content === null ? [] : [['Approved content', content] as const]),
    [
      'Supersedes',
      previousSha256 === null ? first : `revision ${revision - 1}, SHA-256 ${previousSha256}`,
    ],
    ...(signer === undefined
      ? []
      : [
          [
            'Signed with',
            `${signer.algorithm}, SHA-256 of the public key ${signer.keySha256}`,
          ] as const,
        ]),
    ['SHA-256 of the record', sha256],
  ];
}

/**
 * Everything the template sets, in the paper's size.
 *
 * @param sealed the record and its hash
 * @param paper size of the sheet
 * @param text makes text settable: what no font has is written as its code
 */
export function pdfData(sealed: SealedRecord, paper: Paper, text: GlyphText): PdfData {
  const { record, sha256 } = sealed;
  const marks = referredIds(record.blocks);
  const setting: Setting = { text, figures: new Map(), marks, marked: new Set() };
  const body = record.blocks.map((block) => blockJson(block, setting));
  const pair = ([name, said]: readonly [string, string]) => [name, wrapped(text(said))];
  const head: readonly (readonly [string, string])[] = [
    ['Session', `${record.session.title} (${record.session.kind})`],
    ['Session time starts', zeroText(record.session)],
    ['Published', madeText(record)],
    ...(record.reason === undefined ? [] : [['Reason of this revision', record.reason] as const]),
    ...(record.approvals.length === 0 ? [] : [['Approvals', approvalsText(record)] as const]),
  ];
  const doc = {
    paper,
    quick: record.standing === 'preliminary',
    title: wrapped(text(record.title)),
    plainTitle: text(record.title),
    label: text(recordLabel(record)),
    author: text(record.publishedBy),
    date: record.publishedAtIso.slice(0, 10).split('-').map(Number),
    banner: record.banner === null ? null : text(record.banner),
    caution: text(record.caution),
    sha256,
    head: head.map(pair),
    facts: factRows(sealed).map(pair),
    sources: record.sources.map(({ file, sha256: hash }) => [wrapped(text(file)), hash]),
    commands:
      record.signer === undefined
        ? []
        : strangerCommands(record).map(({ what, command }) => [text(what), text(command)]),
    body,
  };
  return { doc, figures: setting.figures };
}
