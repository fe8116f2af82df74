/** A record as Markdown with its figures as SVG files beside it. */
import { runsText } from '../html/html-runs';
import { IMPRINT_FOOT, IMPRINT_HEAD, imprintRows } from '../imprint-rows';
import { textParagraphs } from '../markup';
import { referredIds } from '../nodes/block-reference';
import { recordLabel, type SealedRecord } from '../record';
import type { FigureBlock, FindingBlock, ResolvedBlock, TableBlock } from '../resolved';
import { svgFile } from '../svg-file';
import { markdownTable, pipeTable } from './markdown-table';
import { lineStart, markdownCode, markdownRuns, markdownText } from './markdown-text';

/** Pictures so far, and the blocks that references lead to: each is marked once, where it first stands. */
type Writing = Readonly<{ pictures: Map<string, string>; marks: Set<string> }>;

/** An empty element of the block's name, in front of what a reference leads to; nothing elsewhere. */
function markOf(id: string, { marks }: Writing): string {
  return marks.delete(id) ? `<a id="${id}"></a>` : '';
}

const BLANK = '\n\n';

function indented(text: string, by: string): string {
  return text.replace(/\n(?=[^\n])/g, `\n${by}`);
}

/** Every line of a text as a line of a quotation, blank ones too: one without its sign would end it. */
function quoted(text: string): string {
  return text.replace(/^.*$/gm, (line) => (line === '' ? '>' : `> ${line}`));
}

function words(text: string): string {
  return text.split('\n').map(lineStart).join('\n');
}

function captioned(kind: string, number: number | null, text: string): string {
  const caption = markdownText(text);
  return number === null ? lineStart(caption) : `**${kind} ${number}.** ${caption}`;
}

function tableText(table: TableBlock, writing: Writing): string {
  const mark = markOf(table.id, writing);
  return [
    ...(table.number === null ? [] : [mark + captioned('Table', table.number, table.caption)]),
    markdownTable(table),
    ...(table.note === '' ? [] : [lineStart(markdownText(table.note))]),
  ].join(BLANK);
}

function figureText(figure: FigureBlock, writing: Writing): string {
  const { pictures } = writing;
  const mark = markOf(figure.id, writing);
  const name = `figures/figure-${pictures.size + 1}.svg`;
  const title = figure.caption;
  const { id: idPrefix, alt: description } = figure;
  pictures.set(name, svgFile(figure.plots, { idPrefix, title, description }));
  const alt = markdownText(figure.alt.trim() === '' ? figure.caption : figure.alt);
  return `![${alt}](${name})${BLANK}${mark}${captioned('Figure', figure.number, figure.caption)}`;
}

function findingText(finding: FindingBlock, writing: Writing): string {
  const mark = markOf(finding.id, writing);
  const { about, severity, state, stretch, channels, author, numbers } = finding;
  const paragraphs = (label: string, text: string) =>
    textParagraphs(text).map((each, at) => {
      const lines = each.split('\n').map((part) => lineStart(markdownText(part)));
      return `${at === 0 ? `**${label}** ` : ''}${lines.join('\\\n')}`;
    });
  const list = channels.length === 0 ? '' : `, ${channels.join(', ')}`;
  const facts = `${about}, ${severity}, ${state}. ${stretch}${list}. By ${author}.`;
  const captured = numbers.map(
    ({ label, run }) => `- ${markdownText(label)}: ${markdownRuns([run], '<br>')}`,
  );
  const blocks = [
    `${mark}**Finding ${finding.number}.** ${markdownText(finding.title)}`,
    lineStart(markdownText(facts)),
    ...paragraphs('Seen.', finding.seen),
    ...paragraphs('Change.', finding.change),
    ...(captured.length === 0 ? [] : [captured.join('\n')]),
  ];
  return quoted(blocks.join(BLANK));
}

function listText(items: readonly string[], kind: 'ordered' | 'plain'): string {
  return items
    .map((item, at) => {
      const marker = kind === 'ordered' ? `${at + 1}. ` : '- ';
      return `${marker}${indented(item, ' '.repeat(marker.length))}`;
    })
    .join('\n');
}

function blockText(block: ResolvedBlock, writing: Writing): string {
  const inside = (blocks: readonly ResolvedBlock[]) =>
    blocks.map((each) => blockText(each, writing)).join(BLANK);
  switch (block.kind) {
    case 'heading': {
      const title = markdownText(`${block.number} ${runsText(block.runs)}`.trim());
      return `${'#'.repeat(block.level + 1)} ${markOf(block.id, writing)}${title}`;
    }
    case 'paragraph':
      return words(markdownRuns(block.runs, '\\\n'));
    case 'list':
      return listText(block.items.map(inside), block.ordered ? 'ordered' : 'plain');
    case 'quote':
      return quoted(inside(block.blocks));
    case 'code':
      return markdownCode(block.text);
    case 'divider':
      return '* * *';
    case 'table':
      return tableText(block, writing);
    case 'figure':
      return figureText(block, writing);
    case 'finding':
      return findingText(block, writing);
    case 'missing':
      return lineStart(markdownText(block.message));
  }
}

function facts(sealed: SealedRecord, wanted: readonly string[]): string {
  const rows = imprintRows(sealed).filter(([name]) => wanted.includes(name));
  return pipeTable(
    ['', ''],
    rows.map((row) => row.map(markdownText)),
    [],
  );
}

/** Files of the export by name: the text, a picture for each figure, the record. */
export type MarkdownFiles = ReadonlyMap<string, string>;

/**
 * The record as Markdown, from the record alone.
 *
 * @param sealed record, canonical JSON and hash
 * @returns the same files for the same record; what people wrote is text in them and nothing else
 */
export function renderMarkdown(sealed: SealedRecord): MarkdownFiles {
  const { record } = sealed;
  const pictures = new Map<string, string>();
  const writing: Writing = { pictures, marks: new Set(referredIds(record.blocks)) };
  const { banner } = record;
  const sources = record.sources.map(({ file, sha256 }) => [markdownText(file), sha256]);
  const parts = [
    ...(banner === null ? [] : [`> **${markdownText(banner)}**`]),
    lineStart(markdownText(recordLabel(record))),
    `# ${markdownText(record.title)}`,
    facts(sealed, IMPRINT_HEAD),
    `> ${markdownText(record.caution)}`,
    ...record.blocks.map((block) => blockText(block, writing)),
    '## Record',
    facts(sealed, IMPRINT_FOOT),
    'The SHA-256 is that of record.json beside this text, which holds the evidence of each number.',
    '### Source files and their SHA-256',
    pipeTable(['File', 'SHA-256'], sources, []),
  ];
  const text = `${parts.filter((part) => part !== '').join(BLANK)}\n`;
  return new Map([['debrief.md', text], ...pictures, ['record.json', sealed.json]]);
}
