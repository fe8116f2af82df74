/** Units in which figures leave the core for a file or a sentence. */
import { findUnit } from '../units/unit';

/**
 * A number of the core in the unit somebody asked for.
 *
 * @param si value in SI and radians
 * @param unit unit as written in the rule or the key; one that is not known counts as SI already
 * @returns the value in that unit
 */
export function valueInUnit(si: number, unit: string): number {
  const toSi = findUnit(unit)?.toSi ?? 1;
  return toSi === 1 ? si : si / toSi;
}

/** The SI unit of a unit as written; a unit that is not known is kept. */
export function siUnitOf(unit: string): string {
  return findUnit(unit)?.siUnit ?? unit;
}
