import { expect, test } from 'vitest';
import { findContactTime } from '@/lib/core/phases/contact-time';
import { findRetraction } from '@/lib/core/sequence/ring-retraction';
import { findSettling } from '@/lib/core/sequence/settling';
import { expectWithin } from '../../support/expect-within';
import { motionAlongAxis, rowsTo } from '../../support/motion-along-axis';

const SPAN = { fromS: 0, toS: 60, limitMps: 0.005, forS: 10 };

/** Speed 0.08 exp(-t / tau): it passes the limit at tau ln(0.08 / limit). Elementary. */
function decaying(tauS: number, stepS = 0.1, sdMps = 0.0001) {
  return motionAlongAxis({
    tS: rowsTo(60, stepS),
    axialM: () => 0.2,
    closingMps: (atS) => 0.08 * Math.exp(-atS / tauS),
    sdMps,
  });
}

test.each([2, 5, 10])('a speed that decays over %d s settles when it passes the limit', (tauS) => {
  const found = findSettling(decaying(tauS), SPAN);
  if (typeof found === 'string') throw new Error(found);
  expectWithin(found.atS, tauS * Math.log(0.08 / 0.005), 0.005, 'straight lines between 0.1 s');
  // The speed falls by limit / tau a second there: its own noise takes so long to pass.
  expectWithin(found.halfS, Math.max((1.96 * 0.0001 * tauS) / 0.005, 0.0475), 0.1, 'whole rows');
  expectWithin(found.peakMps, 0.08, 1e-12, 'the first row');
});

test('a speed that comes back over the limit settles only after the last time', () => {
  const motion = motionAlongAxis({
    tS: rowsTo(60, 0.1),
    axialM: () => 0.2,
    closingMps: (atS) => (atS < 3 || (atS >= 9 && atS < 20) ? 0.02 : 0),
  });
  const found = findSettling(motion, SPAN);
  expectWithin(typeof found === 'string' ? null : found.atS, 20, 0.1, 'one row');
});

test('what cannot be told is not called settled', () => {
  expect(findSettling(decaying(5), { ...SPAN, fromS: 100, toS: 200 })).toBe('no-data');
  expect(findSettling(decaying(5), { ...SPAN, toS: 20 })).toBe('never');
  expect(findSettling(decaying(5, 0.1, 0.002), SPAN)).toBe('under-noise');
});

test('a ring that draws in at a steady rate starts and ends where the line meets its rests', () => {
  const share = (atS: number) => Math.min(1, Math.max(0, (atS - 100) / 150));
  const motion = motionAlongAxis({
    tS: rowsTo(400, 0.2),
    axialM: (atS) => 0.2 * (1 - share(atS)),
    closingMps: (atS) => (atS > 100 && atS < 250 ? 0.2 / 150 : 0),
  });
  const found = findRetraction(motion, 20);
  expectWithin(found?.startS, 100, 1e-6, 'straight lines');
  expectWithin(found?.endS, 250, 1e-6, 'straight lines');
  expectWithin((found?.fromM ?? 0) - (found?.toM ?? 0), 0.2, 1e-9, 'levels at rest');
  // 1.96 sd over the rate, and half a row.
  expectWithin(found?.halfS, Math.hypot((1.96 * 0.001) / (0.2 / 150), 0.095), 0.01, 'by hand');
});

test('a vehicle that stays where it rests draws no ring in', () => {
  const motion = motionAlongAxis({
    tS: rowsTo(400, 0.2),
    axialM: (atS) => 0.2 + 0.004 * Math.sin(atS),
    closingMps: () => 0,
  });
  expect(findRetraction(motion, 20)).toBeNull();
});

/** By arithmetic: 0.25 m at 0.075 m/s take 3.333 s, so a ring is touched that much before the plane. */
test('a ring that stands out 0.25 m is touched 3.33 s before the plane at 0.075 m/s', () => {
  const motion = motionAlongAxis({
    tS: rowsTo(30, 0.1),
    axialM: (atS) => 2 - 0.075 * atS,
    closingMps: () => 0.075,
  });
  const ring = findContactTime(motion, 0.25, null);
  const plane = findContactTime(motion, 0, null);
  expectWithin((plane?.timeS ?? 0) - (ring?.timeS ?? 0), 3.3333, 0.005, 'printed to 0.01 s');
});
