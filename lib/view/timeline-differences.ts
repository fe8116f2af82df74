/** What two cursors say of each column: a table of figures, and the same as text and as CSV to copy. */
import {
  type DifferenceColumn,
  type Differences,
  differenceFigures,
} from '../core/findings/difference-figures';
import { readerUnit } from '../core/units/reader-unit';
import { csvTextCell } from './csv-cell';
import { type FigureView, figureView } from './figure-view';
import { spokenDuration } from './format-time';
import { quantityLabel } from './strip-words';
import { toldStretch } from './told-times';

export type DifferencesView = Readonly<{
  /** From when to when and how long, its times left to the reader's clock; so is the first line of `text`. */
  stretch: string;
  head: readonly string[];
  rows: readonly Readonly<{ key: string; label: string; figures: readonly FigureView[] }>[];
  text: string;
  csv: string;
}>;

type Stretch = Readonly<{ fromS: number; toS: number }>;

const PARTS: readonly (readonly [part: keyof Differences, head: string])[] = [
  ['start', 'at the start'],
  ['end', 'at the end'],
  ['difference', 'difference'],
  ['mean', 'mean over time'],
  ['rms', 'rms over time'],
  ['slope', 'slope'],
];

/**
 * Both ends of a stretch on each column.
 *
 * @param columns with a row beyond each end, SI
 * @param stretch session time, s
 * @returns figures in the reader's units; the CSV with all digits in the same units, one row a figure
 */
export function differencesView(
  sessionId: string,
  columns: readonly DifferenceColumn[],
  stretch: Stretch,
): DifferencesView {
  const computed = columns.map((column) => {
    return { column, label: quantityLabel(column.key), found: differenceFigures(column, stretch) };
  });
  const rows = computed.map(({ column, label, found }) => ({
    key: column.key,
    label,
    figures: PARTS.map(([part, head]) =>
      figureView(found[part], { sessionId, label: `${label}, ${head}` }),
    ),
  }));
  const lengthS = stretch.toS - stretch.fromS;
  const said = `${toldStretch(stretch.fromS, stretch.toS)}, ${spokenDuration(lengthS, 2)}`;
  return {
    stretch: said,
    head: PARTS.map(([, head]) => head),
    rows,
    text: [said, ...rows.map(textLine)].join('\n').replaceAll('\u00a0', ' '),
    csv: [
      'column,figure,value,half_width_95,unit,from_session_time_s,to_session_time_s',
      ...computed.flatMap(({ column, found }) => csvLines(column.key, found, stretch)),
    ].join('\r\n'),
  };
}

function textLine({ label, figures }: DifferencesView['rows'][number]): string {
  const parts = figures.map((figure, index) => `${PARTS[index]?.[1]} ${figure.text}`);
  return `${label}: ${parts.join('; ')}`;
}

function csvLines(key: string, found: Differences, { fromS, toS }: Stretch): readonly string[] {
  return PARTS.map(([part]) => {
    const { value, unit: siUnit, uncertainty } = found[part];
    const { unit, fromSi } = readerUnit(siUnit);
    const number = (si: number | null | undefined): string =>
      si === null || si === undefined ? '' : String(si * fromSi);
    const cells = [csvTextCell(key), part, number(value), number(uncertainty?.random)];
    return [...cells, csvTextCell(unit), fromS, toS].join(',');
  });
}
