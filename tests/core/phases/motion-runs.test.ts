import { expect, test } from 'vitest';
import type { MotionEstimate } from '@/lib/core/motion/motion-estimate';
import { findMotionRuns } from '@/lib/core/phases/motion-runs';
import { mergeShortRuns, type RunMotion } from '@/lib/core/phases/open-runs';
import { motionAlongAxis, rowsTo } from '../../support/motion-along-axis';
import { seededRandom } from '../../support/seeded-random';

type Run = { motion: RunMotion; startS: number; endS: number };

function runsOf(...parts: readonly (readonly [RunMotion, number])[]): Run[] {
  let atS = 0;
  return parts.map(([motion, forS]) => {
    const run = { motion, startS: atS, endS: atS + forS };
    atS += forS;
    return run;
  });
}

/** The contract's order taken literally: again and again the earliest short run. */
function literally(runs: readonly Run[], dwellS: number): Run[] {
  const list = runs.map((run) => ({ ...run }));
  for (;;) {
    const at = list.findIndex((run) => run.endS - run.startS < dwellS);
    const run = list[at];
    if (run === undefined || list.length === 1) return list;
    const before = list[at - 1];
    const after = list[at + 1];
    if (before !== undefined && after !== undefined && before.motion === after.motion) {
      before.endS = after.endS;
      list.splice(at, 2);
    } else if (before !== undefined) {
      before.endS = run.endS;
      list.splice(at, 1);
    } else if (after !== undefined) {
      after.startS = run.startS;
      list.splice(at, 1);
    }
  }
}

test('a short run between two alike makes all three one', () => {
  const merged = mergeShortRuns(runsOf(['hold', 60], ['closing', 4], ['hold', 60]), 10);
  expect(merged).toEqual([{ motion: 'hold', startS: 0, endS: 124 }]);
});

test('a short run between unlike ones joins the earlier', () => {
  const merged = mergeShortRuns(runsOf(['hold', 60], ['opening', 4], ['closing', 60]), 10);
  expect(merged).toEqual([
    { motion: 'hold', startS: 0, endS: 64 },
    { motion: 'closing', startS: 64, endS: 124 },
  ]);
});

test('a short first run joins the next', () => {
  const merged = mergeShortRuns(runsOf(['opening', 2], ['hold', 60]), 10);
  expect(merged).toEqual([{ motion: 'hold', startS: 0, endS: 62 }]);
});

test('one pass gives what the literal order gives, on 500 random sequences', () => {
  const random = seededRandom(17);
  const kinds: readonly RunMotion[] = ['hold', 'closing', 'opening', 'crossing'];
  for (let trial = 0; trial < 500; trial++) {
    let last = -1;
    const parts = Array.from({ length: 1 + Math.floor(random() * 12) }, () => {
      let kind = Math.floor(random() * kinds.length);
      if (kind === last) kind = (kind + 1) % kinds.length;
      last = kind;
      return [kinds[kind] ?? 'hold', Math.ceil(20 * random())] as const;
    });
    const runs = runsOf(...parts);
    expect(mergeShortRuns(runs, 10)).toEqual(literally(runs, 10));
  }
});

/** A rate of one value a second, with its deviation, as derived from ranges known to `sdM`. */
function derivedMotion(rates: readonly number[], sdMps: number, sdM: number): MotionEstimate {
  const axialM = rates.map((_, k) => 100 - rates.slice(0, k).reduce((sum, mps) => sum + mps, 0));
  const along = motionAlongAxis({
    tS: rates.map((_, k) => k),
    axialM: (atS) => axialM[atS] ?? Number.NaN,
    closingMps: (atS) => rates[atS] ?? Number.NaN,
    sdM,
    sdMps,
  });
  return { ...along, rateIsDerived: true, rateSpanS: 30, ratePartingPerS: 0.05 };
}

/** Rest, 20 s at 0.03 m/s, rest, then 0.1 m/s. */
const NUDGED = Array.from({ length: 300 }, (_, k) =>
  k >= 200 ? 0.1 : k >= 100 && k < 120 ? 0.03 : 0,
);

function kindsOf(motion: MotionEstimate): string {
  const options = {
    holdRateMps: 0.02,
    holdDwellS: 10,
    holdCrossSpeedMps: null,
    accelerationMps2: 0.01,
    endS: 299,
    endHalfS: 1,
  };
  return findMotionRuns(motion, options)
    .map((run) => run.motion)
    .join(' ');
}

test('a move that noise may have made is no phase, one that rate or way tell is', () => {
  expect(kindsOf(derivedMotion(NUDGED, 0.02, 0.3))).toBe('hold closing');
  // 0.01 over the threshold is five deviations; 0.2 m over it in 20 s is more than 1.96 of 0.07 m.
  expect(kindsOf(derivedMotion(NUDGED, 0.002, 0.3))).toBe('hold closing hold closing');
  expect(kindsOf(derivedMotion(NUDGED, 0.02, 0.05))).toBe('hold closing hold closing');
});

test('a measured rate tells each run as it is', () => {
  const motion = { ...derivedMotion(NUDGED, 0.02, 0.3), rateIsDerived: false };
  expect(kindsOf(motion)).toBe('hold closing hold closing');
});

test('moves of noise at the start of the data are a hold, not an opening', () => {
  const rates = NUDGED.map((mps, k) => (k < 30 ? -0.03 : mps));
  expect(kindsOf(derivedMotion(rates, 0.02, 0.3))).toBe('hold closing');
});

test('a pause that noise may have made does not part a move', () => {
  const rates = Array.from({ length: 300 }, (_, k) => (k >= 150 && k < 165 ? 0.015 : 0.05));
  expect(kindsOf(derivedMotion(rates, 0.02, 0.3))).toBe('closing');
  expect(kindsOf(derivedMotion(rates, 0.001, 0.3))).toBe('closing hold closing');
});

test.each([
  [0.007, 100],
  [0.0001, 109],
] as const)(
  'a blip past the hold rate known to %d m/s leaves the edge before it at %d s',
  (sdMps, edgeS) => {
    // Closing until 100 s; from 107 to 109 s opening by a hundredth more than the hold rate. By the contract's order
    // alone the hold before the blip is short, joins the closing, and takes the blip with it.
    const rate = (atS: number) => (atS < 100 ? 0.1 : atS >= 107 && atS < 109 ? -0.0202 : 0);
    const motion = motionAlongAxis({
      tS: rowsTo(200, 0.5),
      axialM: (atS) => 50 - 0.1 * Math.min(atS, 100),
      closingMps: rate,
      sdMps,
    });
    const runs = findMotionRuns(motion, {
      holdRateMps: 0.02,
      holdDwellS: 10,
      holdCrossSpeedMps: null,
      accelerationMps2: 0.01,
      endS: 200,
      endHalfS: 0,
    });
    expect(runs.map((run) => run.motion)).toEqual(['closing', 'hold']);
    expect(Math.abs((runs[1]?.startS ?? Number.NaN) - edgeS)).toBeLessThan(0.5);
  },
);

const OPTIONS = {
  ...{ holdRateMps: 0.02, holdDwellS: 10, holdCrossSpeedMps: null },
  ...{ accelerationMps2: 0.01, endHalfS: 0 },
};

/** A rate by itself; where it leads is of no account to its edges. */
function runsBy(closingMps: (atS: number) => number, stepS: number, sdMps: number) {
  const tS = rowsTo(100, stepS);
  const along = motionAlongAxis({ tS, axialM: () => 50, closingMps, sdMps });
  const motion = { ...along, rateLinesS: 2 };
  return findMotionRuns(motion, { ...OPTIONS, endS: 100 });
}

// By the definition of the interval: noise over the slope at the threshold that was crossed.
test('where a vehicle turns about, the edge is as sharp as its rate crosses the outward threshold', () => {
  const turning = (atS: number): number => Math.max(-0.1, Math.min(0.1, 0.1 - 0.03 * (atS - 50)));
  const [, back] = runsBy(turning, 0.2, 0.002);
  expect(back).toMatchObject({ motion: 'opening' });
  expect(back?.startS).toBeCloseTo(54, 6);
  expect(back?.startHalfS).toBeCloseTo((1.96 * 0.002) / 0.03, 2);
});

test('a bend between rows that are far apart moves an edge by less than its interval', () => {
  for (const bendS of [20.1, 20.5, 20.9, 21.3]) {
    const braking = (atS: number): number =>
      Math.max(-0.015, 0.025 - 0.01 * Math.max(0, atS - bendS));
    const [, hold] = runsBy(braking, 2, 0.0001);
    const offS = Math.abs((hold?.startS ?? Number.NaN) - (bendS + 0.5));
    expect(offS, `${bendS}`).toBeLessThanOrEqual(hold?.startHalfS ?? 0);
    expect(hold?.startHalfS).toBeLessThan(2);
  }
});
