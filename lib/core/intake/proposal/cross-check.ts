/**
 * Whether columns of one file agree with each other: a rate with the change of what it is the rate
 * of, the range with the position. Finds a wrong sign and a wrong unit before anything is imported.
 */
import { METRES_PER_FOOT, RADIANS_PER_DEGREE } from '../../units/unit';

/** Numbers of one column in SI as described; NaN where a cell is none. */
export type CheckedColumn = Readonly<{ column: string; as: string; values: Float64Array }>;

/** Rows in blocks without a break; `blocks` are the first rows of each, the first being 0. */
export type CheckedTable = Readonly<{
  tS: Float64Array;
  blocks: readonly number[];
  columns: readonly CheckedColumn[];
}>;

export type Disagreement = Readonly<{
  kind: 'sign' | 'unit' | 'size';
  /** The column that a person should look at first, and the one it was held against. */
  column: string;
  against: string;
  /** How often the change of `column`'s quantity is in that of `against`; 1 when they agree. */
  ratio: number;
  message: string;
}>;

/** A ratio is used when its standard error is below this share of it. */
const MOST_RELATIVE_ERROR = 0.05;
/** Ratios nearer to 1 than this are taken as agreement: coarse rows and filters make as much. */
const AGREES_WITHIN = 0.25;

type Factor = Readonly<{ ratio: number; said: string }>;

const FACTORS: readonly Factor[] = [
  { ratio: 1 / METRES_PER_FOOT, said: 'feet taken for metres' },
  { ratio: METRES_PER_FOOT, said: 'metres taken for feet' },
  { ratio: 1000, said: 'a thousandth of the unit taken for one, or its rate for a thousand' },
  { ratio: 0.001, said: 'a thousand of the unit taken for one, or its rate for a thousandth' },
  { ratio: 100, said: 'a hundredth of the unit taken for one, or its rate for a hundred' },
  { ratio: 0.01, said: 'a hundred of the unit taken for one, or its rate for a hundredth' },
  {
    ratio: 1e-6,
    said: 'kilometres taken for metres, and millimetres a second for metres a second',
  },
  { ratio: 1 / 3.6, said: 'kilometres an hour taken for metres a second' },
  { ratio: 1 / RADIANS_PER_DEGREE, said: 'degrees taken for radians' },
  { ratio: RADIANS_PER_DEGREE, said: 'radians taken for degrees' },
];

type Ratio = Readonly<{ ratio: number; error: number }>;

/**
 * Slope of change over integrated rate through the origin, over spans of a block. A span is long
 * enough to change by much more than the rows scatter.
 */
function slope(changes: readonly number[], travelled: readonly number[]): Ratio | null {
  let xy = 0;
  let xx = 0;
  for (const [index, x] of travelled.entries()) {
    xy += x * (changes[index] ?? 0);
    xx += x * x;
  }
  if (changes.length < 3 || xx === 0) return null;
  const ratio = xy / xx;
  let rest = 0;
  for (const [index, x] of travelled.entries()) rest += ((changes[index] ?? 0) - ratio * x) ** 2;
  return { ratio, error: Math.sqrt(rest / (changes.length - 1) / xx) };
}

const SPANS_A_BLOCK = 8;

/** Change of a column against the trapezoid integral of its rate, a few spans a block. */
function changeOverIntegral(
  table: CheckedTable,
  of: Float64Array,
  rate: Float64Array,
): Ratio | null {
  const changes: number[] = [];
  const travelled: number[] = [];
  for (const [block, first] of table.blocks.entries()) {
    const end = table.blocks[block + 1] ?? table.tS.length;
    const rows = Array.from({ length: end - first }, (_, index) => first + index).filter(
      (row) =>
        Number.isFinite(of[row]) && Number.isFinite(rate[row]) && Number.isFinite(table.tS[row]),
    );
    const step = Math.max(1, Math.floor(rows.length / SPANS_A_BLOCK));
    for (let at = 0; at + step < rows.length; at += step) {
      let way = 0;
      for (let index = at; index < at + step; index += 1) {
        const [a, b] = [rows[index] ?? 0, rows[index + 1] ?? 0];
        way += (((rate[a] ?? 0) + (rate[b] ?? 0)) / 2) * ((table.tS[b] ?? 0) - (table.tS[a] ?? 0));
      }
      changes.push((of[rows[at + step] ?? 0] ?? 0) - (of[rows[at] ?? 0] ?? 0));
      travelled.push(way);
    }
  }
  return slope(changes, travelled);
}

function judge(ratio: Ratio | null, column: string, against: string): Disagreement | null {
  if (ratio === null || ratio.error > MOST_RELATIVE_ERROR * Math.abs(ratio.ratio)) return null;
  const size = Math.abs(ratio.ratio);
  const shown = ratio.ratio.toPrecision(3);
  const base = { column, against, ratio: ratio.ratio } as const;
  const offFactor = ({ ratio: each }: Factor): number => Math.abs(Math.log(size / each));
  const nearest = [...FACTORS].sort((a, b) => offFactor(a) - offFactor(b))[0];
  const factor =
    nearest !== undefined && offFactor(nearest) < AGREES_WITHIN / 3 ? nearest : undefined;
  const turned = ratio.ratio < 0;
  const opposite = turned ? ' with the opposite sign' : '';
  if (factor !== undefined) {
    const message = `"${column}" changes by ${shown} times what "${against}" says${opposite}: ${factor.said}?`;
    return { ...base, kind: 'unit', message };
  }
  if (Math.abs(size - 1) > AGREES_WITHIN) {
    const message = `"${column}" changes by ${shown} times what "${against}" says: one of the two is something else`;
    return { ...base, kind: 'size', message };
  }
  if (!turned) return null;
  const message = `"${against}" has the wrong sign against "${column}": the one falls while the other says it grows`;
  return { ...base, kind: 'sign', message };
}

/** Distance from the three parts of the position; NaN where one is missing. */
function distances(parts: readonly CheckedColumn[]): Float64Array | null {
  const [x, y, z] = ['x', 'y', 'z'].map((axis) =>
    parts.find(({ as }) => as === `position.${axis}`),
  );
  if (x === undefined || y === undefined || z === undefined) return null;
  return x.values.map((value, row) =>
    Math.hypot(value, y.values[row] ?? NaN, z.values[row] ?? NaN),
  );
}

/** Value against value, for two columns of one quantity. */
function valueRatio(table: CheckedTable, a: Float64Array, b: Float64Array): Ratio | null {
  const rows = Array.from(table.tS.keys()).filter(
    (row) => Number.isFinite(a[row]) && Number.isFinite(b[row]),
  );
  return slope(
    rows.map((row) => a[row] ?? 0),
    rows.map((row) => b[row] ?? 0),
  );
}

/**
 * Holds columns of one table against each other.
 *
 * @param table times and columns in SI by their description, a few blocks of rows are enough
 * @returns what does not agree, with what it looks like; nothing where the rows cannot tell, as in
 *   a hold or in noise
 *
 * Valid: rates of the same point in the same axes; in rotating axes an inertial velocity differs by
 * n x r, far below what is reported here.
 */
export function findDisagreements(table: CheckedTable): readonly Disagreement[] {
  const found: (Disagreement | null)[] = [];
  const by = (as: string): CheckedColumn | null =>
    table.columns.find((column) => column.as === as) ?? null;
  const pairs: readonly (readonly [string, string])[] = [
    ['range', 'range_rate'],
    ...['x', 'y', 'z'].map((axis) => [`position.${axis}`, `velocity.${axis}`] as const),
    ...['roll', 'pitch', 'yaw'].map((a) => [`attitude_error.${a}`, `body_rate.${a}`] as const),
  ];
  for (const [of, rate] of pairs) {
    const [a, b] = [by(of), by(rate)];
    if (a === null || b === null) continue;
    found.push(judge(changeOverIntegral(table, a.values, b.values), a.column, b.column));
  }
  const distance = distances(table.columns);
  const [range, rate, x] = [by('range'), by('range_rate'), by('position.x')];
  if (distance !== null && x !== null) {
    if (range !== null)
      found.push(judge(valueRatio(table, range.values, distance), range.column, x.column));
    else if (rate !== null)
      found.push(judge(changeOverIntegral(table, distance, rate.values), x.column, rate.column));
  }
  return found.filter((each) => each !== null);
}
