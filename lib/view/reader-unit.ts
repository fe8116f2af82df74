/** From the SI units of the core to the units a reader of an approach expects. */

/**
 * `value in unit = value in SI x fromSi`; `decimals` are shown where the uncertainty is unknown,
 * `most` is where digits stop helping a reader however small the uncertainty is.
 */
export type ReaderUnit = Readonly<{
  unit: string;
  fromSi: number;
  decimals: number;
  most: number;
}>;

const DEG_PER_RAD = 180 / Math.PI;

const BY_SI: Readonly<Record<string, ReaderUnit>> = {
  m: { unit: 'm', fromSi: 1, decimals: 2, most: 4 },
  'm/s': { unit: 'm/s', fromSi: 1, decimals: 3, most: 5 },
  'm/s2': { unit: 'm/s²', fromSi: 1, decimals: 4, most: 6 },
  'm/s^2': { unit: 'm/s²', fromSi: 1, decimals: 4, most: 6 },
  s: { unit: 's', fromSi: 1, decimals: 1, most: 3 },
  rad: { unit: 'deg', fromSi: DEG_PER_RAD, decimals: 2, most: 4 },
  'rad/s': { unit: 'deg/s', fromSi: DEG_PER_RAD, decimals: 3, most: 5 },
  kg: { unit: 'kg', fromSi: 1, decimals: 2, most: 3 },
  '1': { unit: '', fromSi: 1, decimals: 2, most: 6 },
  '': { unit: '', fromSi: 1, decimals: 2, most: 6 },
  '1e-6': { unit: 'ppm', fromSi: 1, decimals: 0, most: 2 },
  ppm: { unit: 'ppm', fromSi: 1, decimals: 0, most: 2 },
};

/** Units a rule may be written in, where they differ from the reader's usual one. */
const BY_WRITTEN: Readonly<
  Record<string, Readonly<{ si: string; fromSi: number; decimals: number }>>
> = {
  rad: { si: 'rad', fromSi: 1, decimals: 4 },
  'rad/s': { si: 'rad/s', fromSi: 1, decimals: 5 },
  mm: { si: 'm', fromSi: 1000, decimals: 0 },
  cm: { si: 'm', fromSi: 100, decimals: 1 },
  km: { si: 'm', fromSi: 0.001, decimals: 4 },
  'mm/s': { si: 'm/s', fromSi: 1000, decimals: 0 },
  'cm/s': { si: 'm/s', fromSi: 100, decimals: 1 },
  min: { si: 's', fromSi: 1 / 60, decimals: 2 },
  kPa: { si: 'Pa', fromSi: 0.001, decimals: 3 },
};

/**
 * The unit to show a figure in.
 *
 * @param siUnit the figure's own unit
 * @param written the unit its author wrote (a rule's), if any; used where it fits the SI unit
 * @returns unit, factor and usual decimals; an unknown unit is shown as it is
 */
export function readerUnit(siUnit: string, written?: string | null): ReaderUnit {
  const chosen = written === undefined || written === null ? undefined : BY_WRITTEN[written];
  if (chosen?.si === siUnit && written !== undefined && written !== null) {
    return { unit: written, ...chosen, most: chosen.decimals + 3 };
  }
  return BY_SI[siUnit] ?? { unit: siUnit, fromSi: 1, decimals: 3, most: 6 };
}
