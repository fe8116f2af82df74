/**
 * Tables of a record as tables of the word processor: heads that repeat, cells that span.
 *
 * Source: ECMA-376-1:2016, 17.4 (tables), 17.4.17 (gridSpan), 17.4.49 (tblHeader), 17.4.84 (vMerge).
 */
import { runsText } from '../html/html-runs';
import type { TableBlock, TableCell } from '../resolved';
import { captionXml, type DocxLinks, paragraph, runsXml, textRun } from './docx-text';

/** Width of the text on A4 with margins of 20 mm, twentieths of a point. */
export const TEXT_TWIPS = 9638;

const RULE = 'w:val="single" w:sz="4" w:space="0" w:color="D5D0BE"';
const BORDERS = `<w:tblBorders><w:top ${RULE}/><w:bottom ${RULE}/><w:insideH ${RULE}/></w:tblBorders>`;
const KEEP = '<w:keepNext/>';
const SIDE = { start: '', end: '<w:jc w:val="right"/>' } as const;

type Column = Readonly<{ align: 'start' | 'end'; twips: number }>;

/** A table of rows that are written already. */
export function tableXml(rows: readonly string[], twips: readonly number[]): string {
  const grid = twips.map((width) => `<w:gridCol w:w="${width}"/>`).join('');
  const properties = `<w:tblW w:w="5000" w:type="pct"/>${BORDERS}<w:tblCellMar><w:left w:w="60" w:type="dxa"/><w:right w:w="60" w:type="dxa"/></w:tblCellMar>`;
  return `<w:tbl><w:tblPr>${properties}</w:tblPr><w:tblGrid>${grid}</w:tblGrid>${rows.join('')}</w:tbl>`;
}

/** One cell; `merge` is of cells that go on downwards. */
export function cellXml(
  content: string,
  width: number,
  span = 1,
  merge: 'starts' | 'goes on' | null = null,
): string {
  const spanned = span > 1 ? `<w:gridSpan w:val="${span}"/>` : '';
  const merged =
    merge === null ? '' : merge === 'starts' ? '<w:vMerge w:val="restart"/>' : '<w:vMerge/>';
  return `<w:tc><w:tcPr><w:tcW w:w="${width}" w:type="dxa"/>${spanned}${merged}</w:tcPr>${content}</w:tc>`;
}

/** A row; those of the head stand again on each page. */
export function rowXml(cells: string, kind: 'head' | 'body' = 'body'): string {
  const head = kind === 'head' ? '<w:tblHeader/>' : '';
  return `<w:tr><w:trPr><w:cantSplit/>${head}</w:trPr>${cells}</w:tr>`;
}

/** Characters that a column is given at least and at most when the width is shared; our own choice. */
const LEAST_WEIGHT = 6;
const MOST_WEIGHT = 40;
/** From so many columns on a table is set smaller. */
const WIDE_FROM = 6;

/** The greatest of any number of sizes: an answer of the crew may hold more words than a call takes. */
const greatest = (sizes: readonly number[]): number =>
  sizes.reduce((most, size) => Math.max(most, size), 0);

/** Widths that share the text's width by the longest words and the usual length of each column. */
function columnsOf(table: TableBlock, count: number): readonly Column[] {
  const weights = Array.from({ length: count }, (_, at) => {
    const texts = table.rows.flatMap((row) => {
      const cell = row.length === count ? row[at] : undefined;
      return cell === undefined ? [] : [runsText(cell.runs)];
    });
    const all = [table.columns[at]?.label ?? '', ...texts];
    const words = all.flatMap((text) => text.split(/[ \n]/)).map(({ length }) => length);
    const longest = Math.min(MOST_WEIGHT, greatest(all.map(({ length }) => length)));
    return Math.max(LEAST_WEIGHT, Math.min(MOST_WEIGHT, greatest(words)) + 2, longest);
  });
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight, at) => ({
    align: table.columns[at]?.align ?? 'start',
    twips: Math.floor((TEXT_TWIPS * weight) / total),
  }));
}

const styleOf = (columns: readonly Column[]) => (columns.length < WIDE_FROM ? 'Cell' : 'SmallCell');

type Spanning = { left: number; span: number };

function bodyRows(
  table: TableBlock,
  columns: readonly Column[],
  links: DocxLinks,
): readonly string[] {
  const spanning = new Map<number, Spanning>();
  const style = styleOf(columns);
  const widthOf = (at: number, span: number) =>
    columns.slice(at, at + span).reduce((sum, { twips }) => sum + twips, 0);
  return table.rows.map((row) => {
    const begun: (readonly [at: number, spanning: Spanning])[] = [];
    const cells: string[] = [];
    let at = 0;
    const goOn = () => {
      for (let open = spanning.get(at); open !== undefined; open = spanning.get(at)) {
        cells.push(cellXml(paragraph('', style), widthOf(at, open.span), open.span, 'goes on'));
        open.left -= 1;
        if (open.left === 0) spanning.delete(at);
        at += open.span;
      }
    };
    const put = (cell: TableCell) => {
      const span = Math.max(1, Math.min(cell.colspan, columns.length - at));
      const merge = cell.rowspan > 1 ? 'starts' : null;
      if (merge !== null) begun.push([at, { left: cell.rowspan - 1, span }]);
      const words = runsXml(cell.runs, links, cell.tone, cell.header ? 'bold' : 'usual');
      const side = SIDE[columns[at]?.align ?? 'start'];
      cells.push(cellXml(paragraph(words, style, side), widthOf(at, span), span, merge));
      at += span;
    };
    for (const cell of row) {
      goOn();
      put(cell);
    }
    goOn();
    while (at < columns.length) {
      cells.push(cellXml(paragraph('', style), widthOf(at, 1)));
      at += 1;
    }
    for (const [place, open] of begun) spanning.set(place, open);
    return rowXml(cells.join(''));
  });
}

/** A table with its caption before it and its note after it. */
export function tableBlockXml(table: TableBlock, links: DocxLinks): string {
  const spans = table.rows.map((row) => row.reduce((sum, { colspan }) => sum + colspan, 0));
  const columns = columnsOf(table, Math.max(1, table.columns.length, greatest(spans)));
  const head = table.columns.map(({ label, align }, at) =>
    cellXml(
      paragraph(textRun(label, '<w:b/>'), styleOf(columns), `${KEEP}${SIDE[align]}`),
      columns[at]?.twips ?? 0,
    ),
  );
  const rows = [
    ...(head.length === 0 ? [] : [rowXml(head.join(''), 'head')]),
    ...bodyRows(table, columns, links),
  ];
  const caption =
    table.number === null
      ? ''
      : captionXml('Table', table.number, table.caption, KEEP, links.place(table.id));
  const note = table.note === '' ? paragraph('', 'Note') : paragraph(textRun(table.note), 'Note');
  if (rows.length === 0) return `${caption}${note}`;
  return `${caption}${tableXml(
    rows,
    columns.map(({ twips }) => twips),
  )}${note}`;
}
