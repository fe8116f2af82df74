/** A stretch as a table: statistics of each column first, then rows spread evenly over it. */
import { decimalsFor, formatCount, formatNumber } from '../core/units/number-text';
import { readerUnit } from '../core/units/reader-unit';
import { csvTextCell } from './csv-cell';
import { quantityLabel } from './strip-words';

export type TableColumn = Readonly<{
  key: string;
  unit: string;
  tS: Float64Array;
  values: Float64Array;
}>;

export type StretchTable = Readonly<{
  statistics: readonly Readonly<{
    key: string;
    /** What the strips call the column. */
    label: string;
    unit: string;
    count: string;
    least: string;
    mean: string;
    greatest: string;
    deviation: string;
  }>[];
  /** Columns of `rows` after the time. */
  head: readonly string[];
  rows: readonly Readonly<{ tS: number; values: readonly string[] }>[];
  /** How the rows shown were chosen. */
  note: string;
}>;

type Summary = Readonly<{
  count: number;
  least: number;
  greatest: number;
  mean: number;
  deviation: number;
}>;

/** @param mostRows rows shown at most; the file holds all of them */
export function stretchTable(columns: readonly TableColumn[], mostRows: number): StretchTable {
  const statistics = columns.map((column) => {
    const { unit, fromSi, decimals: usual } = readerUnit(column.unit);
    const summary = summarise(column.values);
    const decimals = decimalsFor(summary.deviation * fromSi, usual);
    const text = (si: number): string => formatNumber(si * fromSi, Math.max(usual, decimals));
    return {
      key: column.key,
      label: quantityLabel(column.key),
      unit,
      count: formatCount(summary.count),
      least: summary.count === 0 ? 'no value' : text(summary.least),
      mean: summary.count === 0 ? 'no value' : text(summary.mean),
      greatest: summary.count === 0 ? 'no value' : text(summary.greatest),
      deviation: summary.count === 0 ? 'no value' : text(summary.deviation),
    };
  });
  const times = mergedTimes(columns);
  const every = Math.max(1, Math.ceil(times.length / mostRows));
  const shown = times.filter((_, index) => index % every === 0);
  const position = columns.map(() => 0);
  const rows = shown.map((tS) => ({
    tS,
    values: columns.map((column, index) => {
      let at = position[index] ?? 0;
      while (at < column.tS.length && (column.tS[at] ?? Number.POSITIVE_INFINITY) < tS) at += 1;
      position[index] = at;
      const { fromSi, decimals } = readerUnit(column.unit);
      const value = column.tS[at] === tS ? (column.values[at] ?? Number.NaN) : Number.NaN;
      return Number.isNaN(value) ? '' : formatNumber(value * fromSi, decimals + 1);
    }),
  }));
  return {
    statistics,
    head: columns.map((column) => {
      const { unit } = readerUnit(column.unit);
      const label = quantityLabel(column.key);
      return unit === '' ? label : `${label}, ${unit}`;
    }),
    rows,
    note:
      every === 1
        ? `All ${formatCount(times.length)} rows of the stretch.`
        : `Every ${ordinal(every)} of ${formatCount(times.length)} rows; the file holds all.`,
  };
}

/**
 * The rows of a stretch as comma-separated text, session seconds, each column in the unit the screen
 * shows, with all digits.
 *
 * @returns lines without the last line break, the head first
 */
export function* stretchCsv(columns: readonly TableColumn[]): Generator<string> {
  const units = columns.map((each) => readerUnit(each.unit));
  const heads = columns.map((each, index) => {
    const unit = units[index]?.unit ?? '';
    return csvTextCell(unit === '' ? each.key : `${each.key} [${unit}]`);
  });
  yield ['session_time_s', ...heads].join(',');
  const position = columns.map(() => 0);
  for (const tS of mergedTimes(columns)) {
    const values = columns.map((column, index) => {
      const at = position[index] ?? 0;
      if (column.tS[at] !== tS) return '';
      position[index] = at + 1;
      const value = column.values[at] ?? Number.NaN;
      return Number.isNaN(value) ? '' : String(value * (units[index]?.fromSi ?? 1));
    });
    yield [String(tS), ...values].join(',');
  }
}

/** All instants of the columns, ascending, each once. Columns that share their rows cost nothing. */
function mergedTimes(columns: readonly TableColumn[]): readonly number[] {
  const arrays = [...new Set(columns.map((column) => column.tS))];
  if (arrays.length === 1) return Array.from(arrays[0] ?? []);
  const all = Float64Array.from(arrays.flatMap((array) => Array.from(array))).sort();
  return Array.from(all).filter((tS, index) => index === 0 || tS !== all[index - 1]);
}

function summarise(values: Float64Array): Summary {
  let count = 0;
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  let mean = 0;
  let squares = 0;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    count += 1;
    least = Math.min(least, value);
    greatest = Math.max(greatest, value);
    const away = value - mean;
    mean += away / count;
    squares += away * (value - mean);
  }
  return { count, least, greatest, mean, deviation: count === 0 ? 0 : Math.sqrt(squares / count) };
}

function ordinal(count: number): string {
  const tail =
    count % 100 >= 11 && count % 100 <= 13 ? 'th' : (['th', 'st', 'nd', 'rd'][count % 10] ?? 'th');
  return `${count}${tail}`;
}
