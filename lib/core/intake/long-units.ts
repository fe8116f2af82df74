/** Units of a long table that has a column of them beside the names. */
import type { TelemetrySpec } from '../session/session-file';
import { findUnit } from '../units/unit';
import type { Dialect } from './dialect';
import { splitCells, splitLines } from './split-lines';

/** True for the header of a column of units. */
export function isUnitsColumn(name: string): boolean {
  return /unit|einheit/i.test(name);
}

/**
 * The unit of each name.
 *
 * @param rows names and what stands beside them as units, row by row
 * @returns only names with one unit throughout, and units that are known
 */
export function unitsOfNames(
  rows: readonly Readonly<{ name: string; unit: string }>[],
): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const contradicted = new Set<string>();
  for (const row of rows) {
    const unit = row.unit.trim();
    if (unit === '' || findUnit(unit) === null) continue;
    if ((found.get(row.name) ?? unit) !== unit) contradicted.add(row.name);
    found.set(row.name, unit);
  }
  for (const name of contradicted) found.delete(name);
  return found;
}

/**
 * Units of the names in the first rows of a long table.
 *
 * @param text the first part of the file, whose last line may be cut off
 */
export function longUnits(
  text: string,
  { columns, rowsAfterLine, separator }: Dialect,
  { time, nameColumn, valueColumn }: TelemetrySpec,
): ReadonlyMap<string, string> {
  const others = [...time.columns, nameColumn, valueColumn];
  const at = columns.findIndex((name) => isUnitsColumn(name) && !others.includes(name));
  const nameAt = columns.indexOf(nameColumn ?? '');
  if (at < 0 || nameAt < 0) return new Map();
  const rows = splitLines(text).slice(rowsAfterLine, -1);
  return unitsOfNames(
    rows.flatMap((line) => {
      const cells = splitCells(line, separator);
      if (cells?.length !== columns.length) return [];
      return [{ name: (cells[nameAt] ?? '').trim(), unit: cells[at] ?? '' }];
    }),
  );
}
