/**
 * Sources: Welch estimate of two unit samples as printed by the tests of a general-purpose library for
 * signal processing (scipy, signal/tests/test_spectral.py: Hann, 50 % overlap, constant detrend, 1e-7);
 * duty and aggressiveness of Niewind, DLR IB 111-2012/74, worked by hand; cut-off frequency of Blanken
 * and Pausder (1994), closed consequences; limit cycle of Brown, "Elements of Spacecraft Design", worked
 * in lectures of TU Wien (coast 26.18 s, rate 0.0382 deg/s; the source rounds, 0.5 %).
 */
import { describe, expect, test } from 'vitest';
import { controlActivity, cutOffFrequencyHz } from '@/lib/core/handling/control-activity';
import { insideBounds } from '@/lib/core/handling/inside-bounds';
import { deadBandCoast, measureCycle } from '@/lib/core/handling/limit-cycle';
import { welchSpectrum } from '@/lib/core/math/power-spectrum';
import { expectWithin } from '../support/expect-within';
import { seededRandom } from '../support/seeded-random';

const twoUnits = Float64Array.from({ length: 16 }, (_, i) => (i === 0 || i === 8 ? 1 : 0));

test.each([
  [8, [0.08333333, 0.15277778, 0.22222222, 0.22222222, 0.11111111]],
  [9, [0.12477455, 0.23430933, 0.17072113, 0.17072113, 0.17072113]],
])('the density of two unit samples in pieces of %i is as printed', (length, printed) => {
  const { powerPerHz } = welchSpectrum(twoUnits, 1, length);
  expect(powerPerHz).toHaveLength(printed.length);
  for (const [k, value] of printed.entries())
    expectWithin(powerPerHz[k] ?? Number.NaN, value, 1e-7, 'printed to 8 digits');
});

test('a deflection that changes three times in ten samples has duty 3/10, of pairs 3/9', () => {
  const activity = controlActivity(Float64Array.of(0, 0, 1, 1, 1, 2, 2, 2, 0, 0), 0);
  expect(activity).toMatchObject({ changes: 3, duty: 0.3, dutyOfChanges: 3 / 9 });
  expectWithin(activity.aggressiveness, 0.8164966, 5e-8, 'printed to 7 digits');
  expect(controlActivity(Float64Array.of(1), 0).duty).toBeNaN();
});

describe('cut-off frequency', () => {
  const density = (of: (hz: number) => number) => {
    const frequencyHz = Float64Array.from({ length: 4001 }, (_, k) => k * 0.005);
    return cutOffFrequencyHz({ frequencyHz, powerPerHz: frequencyHz.map(of) });
  };

  test('of band-limited white noise is half of the band', () => {
    expectWithin(
      density((hz) => (hz < 4 ? 1 : 0)),
      2,
      0.005,
      'one step of the density',
    );
  });

  test('of a single pole 1 / (1 + (f / f0)^2) is f0, where the band holds its tail', () => {
    // The tail beyond 20 Hz of a pole at 0.1 Hz is 0.3 % of its power.
    expectWithin(
      density((hz) => 1 / (1 + (hz / 0.1) ** 2)),
      0.1,
      0.001,
      'tail cut off',
    );
  });

  test('of a sine is its frequency', () => {
    const values = Float64Array.from({ length: 4096 }, (_, i) =>
      Math.sin(2 * Math.PI * 0.7 * (i / 10)),
    );
    const spectrum = welchSpectrum(values, 10, 512);
    expectWithin(cutOffFrequencyHz(spectrum), 0.7, 10 / 512, 'one step of the estimate');
    expect(cutOffFrequencyHz(welchSpectrum(new Float64Array(64), 10, 32))).toBeNaN();
  });
});

describe('bounds', () => {
  const span = (rows: number) => [{ from: 0, to: rows }];

  test('a triangle of size A is inside b for b / A of its time', () => {
    const tS = Float64Array.from({ length: 401 }, (_, i) => i);
    const values = tS.map((t) => {
      const phase = (t / 100) % 4;
      return phase < 1 ? phase : phase < 3 ? 2 - phase : phase - 4;
    });
    const { share, overshoots } = insideBounds({ tS, values, spans: span(401) }, 0.4);
    expectWithin(share, 0.4, 1e-12, 'straight lines are exact');
    expect(overshoots).toBe(2);
  });

  test('a sine is inside half of its size for a third of its time', () => {
    const tS = Float64Array.from({ length: 12_001 }, (_, i) => i / 1_000);
    const values = tS.map((t) => Math.sin((2 * Math.PI * t) / 4));
    const { share, overshoots } = insideBounds({ tS, values, spans: span(tS.length) }, 0.5);
    expectWithin(share, 1 / 3, 1e-5, 'chords for arcs');
    // Three cycles are six overshoots (14 CFR Part 60, 2.c.9, the way of counting).
    expect(overshoots).toBe(6);
  });
});

describe('limit cycle', () => {
  const jets = {
    inertiaKgM2: 112.5,
    thrustN: 5,
    jetCount: 2,
    leverArmM: 0.5,
    halfBandRad: (0.5 * Math.PI) / 180,
    pulseS: 0.03,
  };

  test('the worked example coasts 26.18 s at 0.0382 deg/s', () => {
    const { rateRadPerS, coastS } = deadBandCoast(jets);
    expectWithin(coastS, 26.181, 0.005 * 26.181, 'the source rounds');
    expectWithin((rateRadPerS * 180) / Math.PI, 0.0382, 0.005 * 0.0382, 'the source rounds');
  });

  test('the cycle that the closed form predicts is measured, noise or not', () => {
    const { coastS } = deadBandCoast(jets);
    const random = seededRandom(3);
    const tS = Float64Array.from({ length: 4_000 }, (_, i) => i / 10);
    const clean = tS.map((t) => {
      const phase = (t / coastS) % 2;
      return jets.halfBandRad * (phase < 1 ? 2 * phase - 1 : 3 - 2 * phase);
    });
    for (const noise of [0, 0.02]) {
      const noisy = clean.map((each) => each + noise * jets.halfBandRad * (2 * random() - 1));
      const found = measureCycle(tS, noisy, 0.2 * jets.halfBandRad);
      expectWithin(found.periodS, 2 * coastS, 0.3 + 20 * noise, 'rows, and noise at the turns');
      expectWithin(
        found.amplitude,
        jets.halfBandRad,
        (0.005 + 2 * noise) * jets.halfBandRad,
        'rows',
      );
      expect(found.cycles).toBe(6);
    }
    expect(measureCycle(tS, new Float64Array(4_000), 1e-6).cycles).toBe(0);
  });
});
