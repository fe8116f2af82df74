/** Ranges that count modulo a length, brought back to a line as far as they show how. */
import type { Issue } from '../../result';
import type { CcsdsRow, CcsdsSegment } from './ccsds-segment';
import { metadataValue } from './ccsds-segment';

/** A step further than this share of the modulus from what the one before leads to is not told. */
const MOST_APART = 0.25;

/** Values of one track in the order of time. */
export type ModuloTrack = Readonly<{
  modulus: number;
  unit: string;
  /** Line of RANGE_MODULUS. */
  line: number;
  values: readonly Readonly<{ timeS: number; value: number; line: number }>[];
}>;

/** Whole multiples to add, value by value; `lostAt` is the line after a step that cannot be told. */
type Unwrapped = Readonly<{ multiples: readonly number[]; lostAt: number | null }>;

/**
 * Whole multiples of the modulus that make a track go on as it went: each value is held against the
 * line through the two before it.
 *
 * @returns multiples from 0 at the first value; all 0 with the line where one step may be either
 *
 * Source: the range is k times the modulus plus the value, CCSDS 503.0-B-2 section 3.5.2.7; k of the
 * first value is not in the message.
 */
export function unwrapTrack({ modulus, values }: ModuloTrack): Unwrapped {
  const multiples: number[] = [];
  let before: Readonly<{ timeS: number; value: number }> | null = null;
  let rate = 0;
  for (const { timeS, value, line } of values) {
    let multiple = 0;
    if (before !== null) {
      const expected: number = before.value + rate * (timeS - before.timeS);
      const exact: number = (expected - value) / modulus;
      multiple = Math.round(exact);
      // Half way between two multiples either may be meant.
      if (Math.abs(exact - multiple) > MOST_APART) {
        return { multiples: values.map(() => 0), lostAt: line };
      }
    }
    const whole = value + multiple * modulus;
    if (before !== null && timeS > before.timeS) {
      rate = (whole - before.value) / (timeS - before.timeS);
    }
    before = { timeS, value: whole };
    multiples.push(multiple);
  }
  return { multiples, lostAt: null };
}

/** What a person is told of a track. */
function trackIssue(track: ModuloTrack, { multiples, lostAt }: Unwrapped, file: string): Issue {
  const { modulus, unit, line, values } = track;
  const crossings = multiples.filter((k, at) => at > 0 && k !== multiples[at - 1]);
  const first = values[multiples.findIndex((k, at) => at > 0 && k !== multiples[at - 1])];
  const outcome =
    lostAt !== null
      ? `how many whole ones lie before line ${lostAt} cannot be told from the values around it; they are kept as written`
      : first === undefined
        ? 'no value crosses it; a whole multiple that all of them share is not in the message'
        : `${crossings.length} crossings are undone, the first at line ${first.line}; a whole multiple that all of them share is not in the message`;
  return {
    code: 'range-modulus',
    severity: 'warning',
    file,
    line,
    message: `RANGE counts modulo ${modulus} ${unit}; ${outcome}`,
  };
}

/** A range in a row of a segment, by its place. */
type Place = Readonly<{ row: CcsdsRow; timeS: number }>;

function rangeOf(row: CcsdsRow): string | null {
  return row.cells.find(([keyword]) => keyword === 'RANGE')?.[1] ?? null;
}

/**
 * The ranges of segments about one subject, in the order of time, unwrapped.
 *
 * @param segments segments whose ranges belong together
 * @param timeOf seconds of a row from any one instant; NaN where its stamp cannot be read
 * @returns text of RANGE by row, for the rows that change; nothing said where no modulus is given
 */
export function unwrapRanges(
  segments: readonly CcsdsSegment[],
  timeOf: (segment: CcsdsSegment, row: CcsdsRow) => number,
  file: string,
): Readonly<{ texts: ReadonlyMap<CcsdsRow, string>; issues: readonly Issue[] }> {
  const [first] = segments;
  const modulus = Number((first && metadataValue(first, 'RANGE_MODULUS')) ?? 0);
  const places = segments
    .flatMap((segment) => segment.rows.map((row): Place => ({ row, timeS: timeOf(segment, row) })))
    .filter(({ row, timeS }) => rangeOf(row) !== null && Number.isFinite(timeS))
    .sort((a, b) => a.timeS - b.timeS);
  if (first === undefined || !(modulus > 0) || places.length === 0) {
    return { texts: new Map(), issues: [] };
  }
  const track: ModuloTrack = {
    modulus,
    unit: metadataValue(first, 'RANGE_UNITS') ?? 'km',
    line: first.metadata.find(({ keyword }) => keyword === 'RANGE_MODULUS')?.line ?? first.line,
    values: places.map(({ row, timeS }) => {
      return { timeS, value: Number(rangeOf(row)), line: row.line };
    }),
  };
  const unwrapped = unwrapTrack(track);
  const texts = new Map<CcsdsRow, string>();
  for (const [at, { row }] of places.entries()) {
    const multiple = unwrapped.multiples[at] ?? 0;
    if (multiple !== 0) texts.set(row, String(Number(rangeOf(row)) + multiple * modulus));
  }
  return { texts, issues: [trackIssue(track, unwrapped, file)] };
}
