/**
 * Stamps read in SQL: the quick path of an import. Each form here gives the same double as the
 * core's reader or NULL; an import tries it on lines of its own file first, and goes to the core's
 * reader when a single one differs or any stamp gives NULL.
 */

import type { Instant } from '@/lib/core/time/instant';
import { leapTable } from '@/lib/core/time/leap-table';
import { GPS_EPOCH_TAI_S, TAI_MINUS_GPS_S, TT_MINUS_TAI_NS, WEEK_S } from '@/lib/core/time/scale';
import type { TimeSpec } from '@/lib/core/time/time-code';

const DAY_NS = '86400000000000';
const NS = 'CAST(1000000000 AS BIGINT)';

/** TAI - UTC in seconds on the UTC day of `epochNs` (an SQL expression); NULL before 1972. */
function leapSql(epochNs: string): string {
  const branches = [...leapTable().entries]
    .reverse()
    .map((entry) => `WHEN ${epochNs} >= ${entry.day} * ${DAY_NS} THEN ${entry.taiMinusUtcS}`);
  return `CASE ${branches.join(' ')} END`;
}

/** TAI nanoseconds of a count of nanoseconds since 1970 on a scale; UTC days have 86,400 s in it. */
function taiSql(epochNs: string, scale: TimeSpec['scale']): string {
  switch (scale) {
    case 'UTC':
      return `${epochNs} + ${leapSql(epochNs)} * ${NS}`;
    case 'TAI':
      return epochNs;
    case 'GPS':
      return `${epochNs} + ${TAI_MINUS_GPS_S} * ${NS}`;
    case 'TT':
      return `${epochNs} - ${TT_MINUS_TAI_NS}`;
  }
}

function datedNs(text: string): string {
  return `epoch_ns(TRY_CAST(${text} AS TIMESTAMP_NS))`;
}

/** Calendar stamps with seconds and no offset but Z; day-of-year stamps start from 1 January. */
function dateSql(cell: string, code: 'calendar' | 'day-of-year', scale: TimeSpec['scale']): string {
  const timeAt = code === 'calendar' ? 12 : 10;
  const isTime = `substr(${cell}, ${timeAt + 2}, 1) = ':' AND substr(${cell}, ${timeAt + 5}, 1) = ':'`;
  const noOffset = `length(translate(substr(${cell}, ${timeAt}), '+-', '')) = length(${cell}) - ${timeAt - 1}`;
  const dayOfYear = `TRY_CAST(substr(${cell}, 6, 3) AS INTEGER)`;
  const ns =
    code === 'calendar'
      ? datedNs(cell)
      : `(CASE WHEN ${dayOfYear} BETWEEN 1 AND 365 THEN ${datedNs(`substr(${cell}, 1, 4) || '-01-01' || substr(${cell}, 9)`)} + (${dayOfYear} - 1) * ${DAY_NS} END)`;
  // Second 60 has no TIMESTAMP: such a stamp is NULL here and is read by the core.
  return `CASE WHEN ${isTime} AND ${noOffset} THEN ${taiSql(ns, scale)} END`;
}

function decimalNs(cell: string, decimals: number): string {
  // A TRY of its own: the planner takes an expression that stands twice out of the TRY about it.
  return `TRY(CAST(TRY_CAST(${cell} AS DECIMAL(38, ${decimals})) * CAST(1${'0'.repeat(decimals)} AS HUGEINT) AS BIGINT))`;
}

/** A date and its time of day in two columns are read as one; a sample of it tells its form. */
function dateCell(cells: readonly string[], texts: readonly string[]): [string, string] {
  const [first = 'NULL', second] = cells;
  return second === undefined
    ? [first, texts[0] ?? '']
    : [`trim(${first}) || ' ' || trim(${second})`, texts.join(' ')];
}

/**
 * Seconds from zero, DOUBLE.
 *
 * @param cells the stamp's cells as SQL: VARCHAR, but DOUBLE for `elapsed-seconds`
 * @returns null for a code that is read by the core only
 */
export function stampSql(
  cells: readonly string[],
  spec: TimeSpec,
  zero: Instant,
  sampleTexts: readonly string[],
): string | null {
  const [cell, sampleText] = dateCell(cells, sampleTexts);
  // TRY: a number too large to be a time is no stamp, and no end of the import.
  const sinceZero = (taiNs: string) => `TRY(CAST((${taiNs}) - ${zero.taiNs} AS DOUBLE) / 1e9)`;
  switch (spec.code) {
    case 'iso8601':
      return sinceZero(
        dateSql(
          cell,
          /^\s*\d{4}-\d{3}\D/.test(sampleText) ? 'day-of-year' : 'calendar',
          spec.scale,
        ),
      );
    case 'ccsds-a':
      return sinceZero(dateSql(cell, 'calendar', spec.scale));
    case 'ccsds-b':
      return sinceZero(dateSql(cell, 'day-of-year', spec.scale));
    case 'unix-seconds':
      return sinceZero(taiSql(`(${decimalNs(cell, 9)})`, spec.scale));
    case 'unix-milliseconds':
      return sinceZero(taiSql(`(${decimalNs(cell, 6)})`, spec.scale));
    case 'unix-nanoseconds':
      return sinceZero(taiSql(`TRY_CAST(${cell} AS BIGINT)`, spec.scale));
    case 'unix-microseconds':
      return sinceZero(taiSql(`(${decimalNs(cell, 3)})`, spec.scale));
    case 'elapsed-milliseconds':
      return sinceZero(`${decimalNs(cell, 6)} + ${spec.from.taiNs}`);
    case 'gps-week-seconds':
      return sinceZero(
        `TRY_CAST(${cells[0]} AS BIGINT) * ${WEEK_S} * ${NS} + ${decimalNs(cells[1] ?? 'NULL', 9)} + ${GPS_EPOCH_TAI_S} * ${NS}`,
      );
    case 'elapsed-seconds': {
      const offsetNs = spec.from.taiNs - zero.taiNs;
      // Rounding to whole nanoseconds is exact for what a double can tell apart.
      return offsetNs === 0n
        ? cell
        : `TRY(CAST(CAST(round(${cell} * 1e9) AS BIGINT) + ${offsetNs} AS DOUBLE) / 1e9)`;
    }
    case 'julian-date':
    case 'modified-julian-date':
    case 'days-since-1900':
    case 'days-since-1904':
    case 'elapsed-dhms':
      return null;
  }
}
