/** Blocks of a resolved document as HTML. */
import { escapeMarkup, textParagraphs } from '../markup';
import type { FigureBlock, FindingBlock, ResolvedBlock, TableBlock, TableCell } from '../resolved';
import { svgPlot } from '../svg-plot';
import { type EvidenceLists, figureEvidenceHtml, runsHtml } from './html-runs';

function caption(kind: string, number: number | null, text: string): string {
  return `<strong>${kind} ${number ?? ''}.</strong> ${escapeMarkup(text)}`;
}

function cellHtml(
  cell: TableCell,
  align: 'start' | 'end',
  lists: EvidenceLists,
  scope: string,
): string {
  const tag = cell.header ? 'th' : 'td';
  const attributes = [
    cell.header && scope !== '' ? ` scope="${scope}"` : '',
    cell.colspan > 1 ? ` colspan="${cell.colspan}"` : '',
    cell.rowspan > 1 ? ` rowspan="${cell.rowspan}"` : '',
    ` class="${align} ${cell.tone}"`,
  ];
  return `<${tag}${attributes.join('')}>${runsHtml(cell.runs, lists)}</${tag}>`;
}

function tableHtml(table: TableBlock, lists: EvidenceLists): string {
  const live = table.columns.length > 0;
  const head = live
    ? `<thead><tr>${table.columns
        .map(
          (column) => `<th scope="col" class="${column.align}">${escapeMarkup(column.label)}</th>`,
        )
        .join('')}</tr></thead>`
    : '';
  const rows = table.rows.map((cells) => {
    const html = cells.map((cell, index) =>
      cellHtml(cell, table.columns[index]?.align ?? 'start', lists, live ? 'row' : ''),
    );
    return `<tr>${html.join('')}</tr>`;
  });
  const title =
    table.number === null
      ? ''
      : `<caption>${caption('Table', table.number, table.caption)}</caption>`;
  const note = table.note === '' ? '' : `<p class="note">${escapeMarkup(table.note)}</p>`;
  return `<div class="table${isWide(table) ? ' wide' : ''}" id="${escapeMarkup(table.id)}"><table>${title}${head}<tbody>${rows.join('')}</tbody></table>${note}</div>`;
}

/** From so many columns on a table needs room on paper. */
const WIDE_FROM = 7;

function isWide({ columns }: TableBlock): boolean {
  return columns.length >= WIDE_FROM;
}

function figureHtml(figure: FigureBlock, lists: EvidenceLists): string {
  const svg = svgPlot(figure.plots, {
    idPrefix: figure.id,
    title: figure.caption,
    description: figure.alt,
  });
  return `<figure id="${escapeMarkup(figure.id)}">${svg}<figcaption>${caption('Figure', figure.number, figure.caption)}</figcaption>${figureEvidenceHtml(figure, lists)}</figure>`;
}

function findingHtml(finding: FindingBlock, lists: EvidenceLists): string {
  const numbers = finding.numbers
    .map(({ label, run }) => `<dt>${escapeMarkup(label)}</dt><dd>${runsHtml([run], lists)}</dd>`)
    .join('');
  const paragraphs = (label: string, text: string) =>
    textParagraphs(text)
      .map((paragraph, index) => {
        const named = index === 0 ? `<strong>${label}</strong> ` : '';
        return `<p class="words">${named}${escapeMarkup(paragraph)}</p>`;
      })
      .join('');
  const channels = finding.channels.length === 0 ? '' : `, ${finding.channels.join(', ')}`;
  return [
    `<section class="finding" id="${escapeMarkup(finding.id)}">`,
    `<h3>Finding ${finding.number}: ${escapeMarkup(finding.title)}</h3>`,
    `<p class="facts">${escapeMarkup(`${finding.about}, ${finding.severity}, ${finding.state}. ${finding.stretch}${channels}. By ${finding.author}.`)}</p>`,
    paragraphs('Seen.', finding.seen),
    paragraphs('Change.', finding.change),
    numbers === '' ? '' : `<dl class="captured">${numbers}</dl>`,
    '</section>',
  ].join('');
}

/** One block and what it holds. A heading of the document's first level is the page's second. */
export function blockHtml(block: ResolvedBlock, lists: EvidenceLists): string {
  const id = escapeMarkup(block.id);
  const inside = (blocks: readonly ResolvedBlock[]) =>
    blocks.map((each) => blockHtml(each, lists)).join('');
  switch (block.kind) {
    case 'heading': {
      const tag = `h${block.level + 1}`;
      return `<${tag} id="${id}"><span class="number-of">${block.number}</span> ${runsHtml(block.runs, lists)}</${tag}>`;
    }
    case 'paragraph':
      return `<div class="p">${runsHtml(block.runs, lists)}</div>`;
    case 'list': {
      const tag = block.ordered ? 'ol' : 'ul';
      return `<${tag}>${block.items.map((item) => `<li>${inside(item)}</li>`).join('')}</${tag}>`;
    }
    case 'quote':
      return `<blockquote>${inside(block.blocks)}</blockquote>`;
    case 'code':
      return `<pre><code>${escapeMarkup(block.text)}</code></pre>`;
    case 'divider':
      return '<hr>';
    case 'table':
      return tableHtml(block, lists);
    case 'figure':
      return figureHtml(block, lists);
    case 'finding':
      return findingHtml(block, lists);
    case 'missing':
      return `<p class="missing">${escapeMarkup(block.message)}</p>`;
  }
}
