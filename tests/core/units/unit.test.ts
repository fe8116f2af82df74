import { expect, test } from 'vitest';
import {
  CHANNEL_QUANTITIES,
  DERIVED_QUANTITIES,
  siUnitOfQuantity,
} from '@/lib/core/units/quantity';
import { findUnit, spellingsOf } from '@/lib/core/units/unit';

/**
 * Source: NIST Special Publication 811 (2008), appendix B.8: foot, mile, nautical mile, knot,
 * pound, pound-force per square inch, degree, second of arc, as printed.
 */
test.each([
  ['ft', 'm', 3.048e-1, 5e-5],
  ['yd', 'm', 9.144e-1, 5e-5],
  ['mi', 'm', 1.609344e3, 5e-4],
  ['nmi', 'm', 1.852e3, 0.5],
  ['in', 'm', 2.54e-2, 5e-5],
  ['kt', 'm/s', 5.144444e-1, 5e-8],
  ['km/h', 'm/s', 2.777778e-1, 5e-8],
  ['lb', 'kg', 4.535924e-1, 5e-8],
  ['lbf', 'N', 4.448222, 5e-7],
  ['psi', 'Pa', 6.894757e3, 5e-4],
  ['mbar', 'Pa', 1e2, 0.5],
  ['deg', 'rad', 1.745329e-2, 5e-9],
  ['arcmin', 'rad', 2.908882e-4, 5e-11],
  ['arcsec', 'rad', 4.848137e-6, 5e-13],
  ['rpm', 'rad/s', 1.047198e-1, 5e-8],
])('%s in %s is %d', (spelling, siUnit, printed, halfDigit) => {
  const unit = findUnit(spelling);
  expect(unit?.siUnit).toBe(siUnit);
  expect(Math.abs((unit?.toSi ?? NaN) - printed)).toBeLessThanOrEqual(halfDigit);
});

// A quotient may be m/s or m s^-1: NIST SP 811 (2008), 6.1.6, from memory. Names in full, plurals and
// capitals: common practice, no source.
test.each([
  ['m/s', 'm s-1', 'm·s⁻¹', 'm.s^-1', 'm/sec', 'metres per second', 'M/S', 'meters/second'],
  ['ft/s', 'FT/S', 'FT/SEC', 'feet per second', 'ft s**-1', 'FPS'],
  ['deg/s', 'deg/sec', 'degrees/second', 'DEG/S', 'deg s^-1'],
  ['m/s2', 'm s-2', 'm/s/s', 'm·s⁻²', 'm/sec^2'],
  ['ft', 'FT', 'Feet', 'FEET', 'foot'],
  ['km', 'KM', 'kilometres'],
  ['us', 'µs', 'microseconds'],
  ['s', 'seconds', 'SEC', 'Second'],
])('%s is written otherwise too', (usual, ...others) => {
  for (const other of others) expect([other, findUnit(other)]).toEqual([other, findUnit(usual)]);
});

// Capitals that stand for something else (mega, milli; second, siemens), and words that end in s.
test.each(['MS', 'MW', 'MG', 'NM', 'mSec', 'status', 'gps', 'ns-1 x', 's/m/s'])(
  '%s stays unknown',
  (spelling) => expect(findUnit(spelling)).toBeNull(),
);

test('a spelling that is not known is null, case matters', () => {
  expect(findUnit('wibble')).toBeNull();
  expect(findUnit('mpa')).toBeNull();
  expect(findUnit('MPa')?.toSi).toBe(1e6);
  expect(findUnit(' m/s ')?.siUnit).toBe('m/s');
  expect(findUnit('__proto__')).toBeNull();
});

test('every quantity has a unit that files can spell', () => {
  for (const siUnit of [...CHANNEL_QUANTITIES.values(), ...DERIVED_QUANTITIES.values()]) {
    expect(spellingsOf(siUnit)[0]).toBe(siUnit);
  }
  expect(siUnitOfQuantity('bus_voltage')).toBeNull();
});
