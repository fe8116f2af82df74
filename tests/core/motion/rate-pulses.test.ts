import { describe, expect, test } from 'vitest';
import { findRatePulses, pulseInstantSdS, pulseRateSdMps } from '@/lib/core/motion/rate-pulses';
import { takeSamples } from '@/lib/core/series/samples';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const NOISE_M = 0.03;
const HOLD_RATE_MPS = 0.02;

/** A position of 5 Hz with noise. */
function samplesOf(positionM: (atS: number) => number, seed: number, rows = 1000) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: rows }, (_, k) => k * 0.2);
  const values = tS.map((atS) => positionM(atS) + NOISE_M * gaussian(random));
  return takeSamples(tS, values, null);
}

function pulses(positionM: (atS: number) => number, seed: number) {
  const samples = samplesOf(positionM, seed);
  return findRatePulses(samples, [{ from: 0, to: samples.tS.length }], HOLD_RATE_MPS);
}

/** Closing at 0.1 m/s; at 80 s the rate jumps by `sizeMps` and is back after `lastsS`. */
function withPulse(sizeMps: number, lastsS: number) {
  return (atS: number): number => {
    const u = Math.min(Math.max(0, atS - 80), lastsS);
    return 40 - 0.1 * atS - sizeMps * (u - (u * u) / (2 * lastsS));
  };
}

/** Rest, then from 60 s on at 0.01 m/s2 to 0.2 m/s. */
function ramp(atS: number): number {
  const u = Math.min(Math.max(0, atS - 60), 20);
  return 100 - 0.005 * u * u - 0.2 * Math.max(0, atS - 80);
}

describe('pulses of the rate without measured velocity', () => {
  test.each([
    [0.08, 4],
    [0.12, 6],
    [0.2, 3],
  ])('a pulse of %d m/s over %d s is found with its size', (sizeMps, lastsS) => {
    const found = pulses(withPulse(sizeMps, lastsS), 5);
    expect(found).toHaveLength(1);
    const [pulse] = found;
    expectWithin(pulse?.atS, 80, 1, 'two seconds of data at 3 cm');
    const sdMps = Math.sqrt(pulse?.covariance[0] ?? 0);
    expectWithin(pulse?.sizeMps, -sizeMps, 3 * sdMps, 'three of its own standard deviations');
    expect(sdMps).toBeLessThan(0.04);
    if (pulse === undefined) return;
    // At its instant the jump may have been or not: half of the size is the deviation of such a value.
    const halfMps = Math.abs(pulse.sizeMps) / 2;
    expect(pulseRateSdMps(pulse, pulse.atS)).toBeGreaterThanOrEqual(halfMps * (1 - 1e-12));
    expect(pulseRateSdMps(pulse, pulse.atS - 10 * pulseInstantSdS(pulse))).toBeLessThan(1e-3);
  });

  test('steady motion, a ramp, and a slow swing of 10 cm show none, with 20 seeds', () => {
    const swing = (atS: number): number => 30 + 0.1 * Math.sin(atS / 19);
    for (let seed = 1; seed <= 20; seed++) {
      expect(pulses((atS) => 40 - 0.1 * atS, seed)).toEqual([]);
      expect(pulses(ramp, seed)).toEqual([]);
      expect(pulses(swing, seed)).toEqual([]);
    }
  });
});
