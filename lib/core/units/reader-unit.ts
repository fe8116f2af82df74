/** From the SI units of the core to the units a reader of an approach expects. */
import { findUnit, RADIANS_PER_DEGREE } from './unit';

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

/** Digits are common practice, no source: a metre to the millimetre, a second to the hundredth. */
const BY_SI: ReadonlyMap<string, ReaderUnit> = new Map<string, ReaderUnit>(
  Object.entries({
    m: { unit: 'm', fromSi: 1, decimals: 2, most: 3 },
    'm/s': { unit: 'm/s', fromSi: 1, decimals: 3, most: 5 },
    'm/s2': { unit: 'm/s²', fromSi: 1, decimals: 4, most: 6 },
    'm/s^2': { unit: 'm/s²', fromSi: 1, decimals: 4, most: 6 },
    s: { unit: 's', fromSi: 1, decimals: 1, most: 2 },
    rad: { unit: 'deg', fromSi: 1 / RADIANS_PER_DEGREE, decimals: 2, most: 4 },
    'rad/s': { unit: 'deg/s', fromSi: 1 / RADIANS_PER_DEGREE, decimals: 3, most: 5 },
    'rad/s2': { unit: 'deg/s²', fromSi: 1 / RADIANS_PER_DEGREE, decimals: 4, most: 6 },
    kg: { unit: 'kg', fromSi: 1, decimals: 2, most: 3 },
    '1': { unit: '', fromSi: 1, decimals: 2, most: 6 },
    '': { unit: '', fromSi: 1, decimals: 2, most: 6 },
    '1e-6': { unit: 'ppm', fromSi: 1, decimals: 0, most: 2 },
    ppm: { unit: 'ppm', fromSi: 1, decimals: 0, most: 2 },
  }),
);

/** Usual decimals of units somebody may write, where they differ from three. */
const WRITTEN_DECIMALS: ReadonlyMap<string, number> = new Map<string, number>(
  Object.entries({
    rad: 4,
    'rad/s': 5,
    mm: 0,
    '%': 0,
    cm: 1,
    km: 4,
    'mm/s': 0,
    'cm/s': 1,
    min: 2,
  }),
);

/**
 * The unit to show a number in.
 *
 * @param siUnit the number's own unit
 * @param written the unit its author wrote (a rule's), if any; used where it fits the SI unit
 * @returns unit, factor and usual decimals; a unit that is not known is shown as it is
 */
export function readerUnit(siUnit: string, written: string | null = null): ReaderUnit {
  const usual = BY_SI.get(siUnit) ?? { unit: siUnit, fromSi: 1, decimals: 3, most: 6 };
  // A rule that counts is written in 1, which nobody reads.
  const isUsual = written === null || written === usual.unit || written === '1';
  const unit = isUsual ? null : findUnit(written);
  if (written === null || unit === null || unit.siUnit !== siUnit) return usual;
  const decimals = WRITTEN_DECIMALS.get(written) ?? 3;
  return { unit: written, fromSi: 1 / unit.toSi, decimals, most: decimals + 3 };
}

const RATE_UNITS: Readonly<Record<string, string>> = {
  m: 'm/s',
  'm/s': 'm/s2',
  rad: 'rad/s',
  'rad/s': 'rad/s2',
};

/** The SI unit of how fast something changes. @param unit SI */
export function rateUnit(unit: string): string {
  return RATE_UNITS[unit] ?? (unit === '' || unit === '1' ? '1/s' : `${unit}/s`);
}
