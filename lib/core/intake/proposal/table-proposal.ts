/** A proposal of how one table of samples is to be read, for a person to accept or to change. */
import { TIME_SCALES } from '../../time/time-code';
import { findUnit } from '../../units/unit';
import { isNumber } from '../find-table';
import { isUnitsColumn, unitsOfNames } from '../long-units';
import { proposeQuantity } from './quantity-proposal';
import { type CellColumns, proposeTime, type TimeProposal } from './time-proposal';

/** Cells of some rows of a table, in the order of the file. */
export type TableSketch = CellColumns &
  Readonly<{
    /** Units from a row under the header, by column; null where there is no such row. */
    units: readonly string[] | null;
    /** First rows of blocks without a break in them, the first being 0. */
    blocks: readonly number[];
    decimal: '.' | ',';
  }>;

/** One column; `as` null: it could not be placed, and `reason` says why. */
export type ColumnProposal = Readonly<{
  column: string;
  as: string | null;
  unit: string | null;
  /** False where the unit is the usual one, which nothing in the file says. */
  isUnitSaid: boolean;
  sign: 1 | -1;
  reason: string;
  examples: readonly string[];
}>;

export type TableProposal = Readonly<{
  layout: 'wide' | 'long';
  nameColumn: string | null;
  valueColumn: string | null;
  time: TimeProposal | null;
  channels: readonly ColumnProposal[];
}>;

const EXAMPLES = 3;
/** A column of names has at most this many different ones, each several times. */
const MOST_NAMES = 400;
const LEAST_TIMES_EACH = 2;

function isMostlyNumbers(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell.trim() !== '');
  return filled.length > 0 && filled.filter(isNumber).length >= 0.8 * filled.length;
}

function examplesOf(cells: readonly string[]): readonly string[] {
  return [...new Set(cells.filter((cell) => cell.trim() !== ''))].slice(0, EXAMPLES);
}

type LongColumns = Readonly<{ name: number; value: number }>;

/** A time, a column of names that come again and again, and one of numbers. */
function findLong(sketch: TableSketch, stamps: readonly string[]): LongColumns | null {
  const rest = [...sketch.columns.keys()].filter(
    (index) => !stamps.includes(sketch.columns[index] ?? ''),
  );
  const numbers = rest.filter((index) => isMostlyNumbers(sketch.cells[index] ?? []));
  const names = rest.filter((index) => {
    const cells = sketch.cells[index] ?? [];
    const different = new Set(cells).size;
    const repeats = different <= MOST_NAMES && cells.length >= LEAST_TIMES_EACH * different;
    return different > 1 && repeats && !cells.some(isNumber);
  });
  const [name, ...otherNames] = names;
  const [value, ...otherValues] = numbers;
  if (name === undefined || value === undefined || otherValues.length > 0) return null;
  const words = sketch.columns[name]?.toLowerCase() ?? '';
  const isNamed = /name|channel|param|signal|measurand|mnemonic|id/.test(words);
  return isNamed || otherNames.length === 0 ? { name, value } : null;
}

/** The unit that a column of units gives each name, where it gives one alone. */
function unitsByName(sketch: TableSketch, { name }: LongColumns): ReadonlyMap<string, string> {
  const isUnits = (index: number): boolean => {
    const filled = (sketch.cells[index] ?? []).filter((cell) => cell.trim() !== '');
    const known = filled.filter((cell) => findUnit(cell) !== null && !/^[\d.]+$/.test(cell.trim()));
    return filled.length > 0 && 2 * known.length > filled.length;
  };
  const column = [...sketch.columns.keys()].find(
    (index) => index !== name && isUnitsColumn(sketch.columns[index] ?? '') && isUnits(index),
  );
  const units = column === undefined ? [] : (sketch.cells[column] ?? []);
  const names = sketch.cells[name] ?? [];
  return unitsOfNames(units.map((unit, row) => ({ name: names[row] ?? '', unit })));
}

type NamedCells = Readonly<{ name: string; unit: string | null; cells: readonly string[] }>;

function whyNotPlaced(name: string, unit: string | null): string {
  const byName = unit === null ? null : proposeQuantity(name, null);
  return byName === null
    ? 'its name says no quantity that is known'
    : `its name reads as ${byName.as}, but ${unit} is no unit of that`;
}

function placeColumn({ name, unit, cells }: NamedCells): ColumnProposal {
  const proposal = isMostlyNumbers(cells) ? proposeQuantity(name, unit) : null;
  const isEmpty = cells.every((cell) => cell.trim() === '');
  const words = isEmpty ? 'nothing stands in it' : 'it holds words, not numbers';
  const why = isMostlyNumbers(cells) ? whyNotPlaced(name, unit) : words;
  return {
    column: name,
    as: proposal?.as ?? null,
    unit: proposal === null ? unit : proposal.unit,
    isUnitSaid: proposal?.isUnitSaid ?? unit !== null,
    sign: proposal?.sign ?? 1,
    reason: proposal?.reason ?? why,
    examples: examplesOf(cells),
  };
}

/** One quantity stands once; of several columns that read alike the first keeps it. */
function onceEach(channels: readonly ColumnProposal[]): readonly ColumnProposal[] {
  const taken = new Map<string, string>();
  return channels.map((channel) => {
    if (channel.as === null) return channel;
    const other = taken.get(channel.as);
    if (other === undefined) {
      taken.set(channel.as, channel.column);
      return channel;
    }
    const reason = `reads as ${channel.as} too, which "${other}" has already`;
    return { ...channel, as: null, reason };
  });
}

/**
 * Proposes time, layout and quantities of a table.
 *
 * @param sketch header and some rows
 * @returns a proposal that leaves open what names and values do not say; it is never used unseen
 */
export function proposeTable(sketch: TableSketch): TableProposal {
  const time = proposeTime(sketch);
  const stamps = time?.columns ?? [];
  const long = findLong(sketch, stamps);
  if (long !== null) {
    const names = sketch.cells[long.name] ?? [];
    const values = sketch.cells[long.value] ?? [];
    const units = unitsByName(sketch, long);
    const channels = [...new Set(names)].map((name) =>
      placeColumn({
        name,
        unit: units.get(name) ?? null,
        cells: values.filter((_, row) => names[row] === name),
      }),
    );
    return {
      layout: 'long',
      nameColumn: sketch.columns[long.name] ?? null,
      valueColumn: sketch.columns[long.value] ?? null,
      time,
      channels: onceEach(channels),
    };
  }
  const channels = sketch.columns.flatMap((name, index) => {
    if (stamps.includes(name)) return [];
    const written = sketch.units?.[index]?.trim() ?? '';
    const unit = TIME_SCALES.some((scale) => scale === written) ? '' : written;
    return placeColumn({ name, unit: unit === '' ? null : unit, cells: sketch.cells[index] ?? [] });
  });
  return {
    layout: 'wide',
    nameColumn: null,
    valueColumn: null,
    time,
    channels: onceEach(channels),
  };
}
