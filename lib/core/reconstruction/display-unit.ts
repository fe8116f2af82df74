/** Units in which figures leave the core for a file or a sentence. */

/** What one of the unit is in SI. */
const SI_PER_UNIT: Readonly<Record<string, number>> = {
  deg: Math.PI / 180,
  'deg/s': Math.PI / 180,
  km: 1000,
  'km/s': 1000,
  cm: 0.01,
  'cm/s': 0.01,
  mm: 0.001,
  'mm/s': 0.001,
};

/**
 * A number of the core in the unit somebody asked for.
 *
 * @param si value in SI and radians
 * @param unit unit as written in the rule or the key; one that is not known counts as SI already
 * @returns the value in that unit
 */
export function valueInUnit(si: number, unit: string): number {
  const factor = SI_PER_UNIT[unit];
  return factor === undefined ? si : si / factor;
}
