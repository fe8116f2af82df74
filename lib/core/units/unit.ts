/** Units found in files and what they are in SI (radians for angles). */
import { plainSpelling } from './unit-spelling';

/** One spelling of a unit: `value in siUnit = value x toSi`. Units with an offset are not converted. */
export type Unit = Readonly<{ siUnit: string; toSi: number }>;

export const METRES_PER_FOOT = 0.3048; // international foot, exact (1959 agreement)
export const METRES_PER_MILE = 1609.344; // 5280 international feet, exact
export const METRES_PER_NAUTICAL_MILE = 1852; // exact (1929 conference)
export const KILOGRAMS_PER_POUND = 0.453_592_37; // exact (1959 agreement)
export const STANDARD_GRAVITY_MPS2 = 9.806_65; // 3rd CGPM 1901, exact
export const RADIANS_PER_DEGREE = Math.PI / 180;

/** SI unit to `spelling: factor`, as files write them. Case matters where SI says so. */
const SPELLINGS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  m: {
    m: 1,
    metre: 1,
    metres: 1,
    meter: 1,
    meters: 1,
    km: 1000,
    cm: 0.01,
    mm: 0.001,
    um: 1e-6,
    ft: METRES_PER_FOOT,
    foot: METRES_PER_FOOT,
    feet: METRES_PER_FOOT,
    in: METRES_PER_FOOT / 12,
    yd: METRES_PER_FOOT * 3,
    mi: METRES_PER_MILE,
    nmi: METRES_PER_NAUTICAL_MILE,
  },
  'm/s': {
    'm/s': 1,
    mps: 1,
    'km/s': 1000,
    'cm/s': 0.01,
    'mm/s': 0.001,
    'km/h': 1 / 3.6,
    'ft/s': METRES_PER_FOOT,
    fps: METRES_PER_FOOT,
    'in/s': METRES_PER_FOOT / 12,
    'ft/min': METRES_PER_FOOT / 60,
    kt: METRES_PER_NAUTICAL_MILE / 3600,
  },
  'm/s2': {
    'm/s2': 1,
    'm/s^2': 1,
    'm/s²': 1,
    'mm/s2': 0.001,
    'mm/s^2': 0.001,
    'ft/s2': METRES_PER_FOOT,
    'ft/s^2': METRES_PER_FOOT,
    gee: STANDARD_GRAVITY_MPS2,
  },
  rad: {
    rad: 1,
    mrad: 0.001,
    deg: RADIANS_PER_DEGREE,
    degree: RADIANS_PER_DEGREE,
    degrees: RADIANS_PER_DEGREE,
    '°': RADIANS_PER_DEGREE,
    arcmin: RADIANS_PER_DEGREE / 60,
    arcsec: RADIANS_PER_DEGREE / 3600,
  },
  'rad/s': {
    'rad/s': 1,
    'mrad/s': 0.001,
    'deg/s': RADIANS_PER_DEGREE,
    dps: RADIANS_PER_DEGREE,
    '°/s': RADIANS_PER_DEGREE,
    'deg/min': RADIANS_PER_DEGREE / 60,
    'deg/h': RADIANS_PER_DEGREE / 3600,
    rpm: (2 * Math.PI) / 60,
  },
  s: { s: 1, sec: 1, ms: 0.001, us: 1e-6, ns: 1e-9, min: 60, h: 3600, d: 86_400 },
  kg: { kg: 1, g: 0.001, mg: 1e-6, t: 1000, lb: KILOGRAMS_PER_POUND, lbm: KILOGRAMS_PER_POUND },
  'kg/s': { 'kg/s': 1, 'g/s': 0.001, 'lb/s': KILOGRAMS_PER_POUND },
  N: { N: 1, kN: 1000, mN: 0.001, lbf: KILOGRAMS_PER_POUND * STANDARD_GRAVITY_MPS2 },
  'N.m': { 'N.m': 1, 'N*m': 1, 'N m': 1, Nm: 1, N·m: 1, 'mN.m': 0.001 },
  'N.s': { 'N.s': 1, 'N*s': 1, 'N s': 1, Ns: 1, N·s: 1 },
  Pa: {
    Pa: 1,
    hPa: 100,
    kPa: 1000,
    MPa: 1e6,
    mbar: 100,
    bar: 1e5,
    psi:
      (KILOGRAMS_PER_POUND * STANDARD_GRAVITY_MPS2) /
      ((METRES_PER_FOOT / 12) * (METRES_PER_FOOT / 12)),
  },
  K: { K: 1 },
  degC: { degC: 1, '°C': 1, C: 1 },
  V: { V: 1, mV: 0.001, kV: 1000 },
  A: { A: 1, mA: 0.001 },
  W: { W: 1, kW: 1000, mW: 0.001 },
  J: { J: 1, kJ: 1000 },
  Hz: { Hz: 1, kHz: 1000, MHz: 1e6 },
  '1': { '1': 1, '-': 1, '%': 0.01, ppm: 1e-6, count: 1, counts: 1, none: 1 },
};

const BY_SPELLING: ReadonlyMap<string, Unit> = new Map(
  Object.entries(SPELLINGS).flatMap(([siUnit, spellings]) =>
    Object.entries(spellings).map(([spelling, toSi]) => [spelling, { siUnit, toSi }] as const),
  ),
);

/**
 * The unit behind a spelling.
 *
 * @param spelling as written in a file, spaces round it ignored; names in full, `per` and powers
 *   are known too
 * @returns its SI unit and factor; null for a spelling that is not known
 */
export function findUnit(spelling: string): Unit | null {
  return BY_SPELLING.get(spelling.trim()) ?? BY_SPELLING.get(plainSpelling(spelling)) ?? null;
}

/** The usual way to write a unit that `findUnit` knows: `FT/SEC` to `ft/s`; others stay as they are. */
export function usualSpelling(spelling: string): string {
  const written = spelling.trim();
  const plain = plainSpelling(written);
  return BY_SPELLING.has(written) || !BY_SPELLING.has(plain) ? written : plain;
}

/**
 * The spellings that become an SI unit, for a message that says what would be right.
 *
 * @param siUnit an SI unit of this file, as `m/s`
 * @returns spellings in the order most used first; empty for a unit that is not known
 */
export function spellingsOf(siUnit: string): readonly string[] {
  return Object.keys(SPELLINGS[siUnit] ?? {});
}
