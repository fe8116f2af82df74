import { expect, test } from 'vitest';
import { alignClock } from '@/lib/core/callouts/align-clock';
import type { SpokenValue } from '@/lib/core/callouts/find-callouts';
import { findCrossings } from '@/lib/core/callouts/range-crossings';
import { seededRandom } from '../../support/seeded-random';

const LAG = { lagS: 0.8, lagSdS: 0.4 };

/** 250 m to 100 m at 0.25 m/s, back to 120 m, 200 s of hold, then in at 0.2 and 0.07 m/s. */
function rangeAt(timeS: number): number {
  if (timeS < 600) return 250 - 0.25 * timeS;
  if (timeS < 700) return 100 + 0.2 * (timeS - 600);
  if (timeS < 900) return 120;
  if (timeS < 1350) return 120 - 0.2 * (timeS - 900);
  return Math.max(0, 30 - 0.07 * (timeS - 1350));
}

const tS = Float64Array.from({ length: 9000 }, (_, index) => index * 0.2);
const track = { tS, rangeM: tS.map(rangeAt) };

function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

type Clock = Readonly<{ offsetS: number; driftPpm: number }>;

/** Ranges as a person would speak them, on a clock of their own. */
function speak(
  ranges: readonly (readonly [valueM: number, crossingS: number])[],
  clock: Clock,
  seed: number,
): SpokenValue[] {
  const random = seededRandom(seed);
  return ranges.map(([valueSi, crossingS], entryIndex) => {
    const sessionS = crossingS + LAG.lagS + LAG.lagSdS * normal(random);
    const sourceS = (sessionS - clock.offsetS) / (1 + clock.driftPpm * 1e-6);
    return {
      kind: 'range',
      valueSi,
      text: `Range ${valueSi} metres.`,
      doubtful: false,
      reason: null,
      entryIndex,
      sourceS,
    };
  });
}

const FLOWN: readonly (readonly [number, number])[] = [
  [200, 200],
  [150, 400],
  [120, 520],
  [110, 950],
  [100, 1000],
  [80, 1100],
  [60, 1200],
  [50, 1250],
  [40, 1300],
  [20, 1350 + 10 / 0.07],
  [10, 1350 + 20 / 0.07],
  [5, 1350 + 25 / 0.07],
];

test('a range flown three times has three crossings, a hold has none of its own', () => {
  expect(findCrossings(track, 110).map((timeS) => Math.round(timeS))).toEqual([560, 650, 950]);
  expect(findCrossings(track, 300)).toEqual([]);
});

test('offset and drift are found within their stated uncertainty, nineteen times in twenty (seeded)', () => {
  let offsetHeld = 0;
  let driftHeld = 0;
  const rounds = 200;
  for (let seed = 0; seed < rounds; seed += 1) {
    const clock = { offsetS: 37.4, driftPpm: 2000 };
    const found = alignClock(speak(FLOWN, clock, seed), track, LAG);
    if (Math.abs(found.offsetS - clock.offsetS) <= (found.offsetUncertaintyS ?? 0)) offsetHeld += 1;
    if (Math.abs(found.driftPpm - clock.driftPpm) <= (found.driftUncertaintyPpm ?? 0))
      driftHeld += 1;
    expect(found.used).toBeGreaterThanOrEqual(FLOWN.length - 1);
  }
  // The offset's interval also holds a speaker's own mean lag, so it is wider than this needs.
  expect(offsetHeld / rounds).toBeGreaterThan(0.95);
  // Binomial, 200 draws at 0.95: three standard deviations are 0.046.
  expect(driftHeld / rounds).toBeGreaterThan(0.95 - 0.046);
});

test('words misheard, and a log hours off, do no harm', () => {
  const clock = { offsetS: -7200, driftPpm: 0 };
  const wrong = speak(
    [
      [70, 300],
      [140, 900],
      [15, 500],
    ],
    clock,
    5,
  );
  const found = alignClock([...speak(FLOWN, clock, 4), ...wrong], track, LAG);
  expect(Math.abs(found.offsetS - clock.offsetS)).toBeLessThan(1);
  expect(found).toMatchObject({ used: 12, rejected: 3 });
});

test('a drift that cannot be told from none is 0, with the reason', () => {
  const found = alignClock(speak(FLOWN, { offsetS: 12, driftPpm: 0 }, 8), track, LAG);
  expect(found.driftPpm).toBe(0);
  expect(found.reason).toContain('under twice its standard error');
  expect(Math.abs(found.offsetS - 12)).toBeLessThan(1);
});

test('the lag is taken off the offset', () => {
  const spoken = speak(FLOWN, { offsetS: 5, driftPpm: 0 }, 9);
  const longer = alignClock(spoken, track, { ...LAG, lagS: 2.8 });
  const stated = alignClock(spoken, track, LAG);
  expect(longer.offsetS - stated.offsetS).toBeCloseTo(2, 9);
});

test('one word gives an offset only', () => {
  const found = alignClock(speak([[200, 200]], { offsetS: 5, driftPpm: 0 }, 1), track, LAG);
  expect(found).toMatchObject({ used: 1, driftPpm: 0, driftUncertaintyPpm: null });
  expect(found.reason).toContain('fewer than three');
});

test('without a usable word the clock stays as it is, and says why', () => {
  const doubtful = speak(FLOWN, { offsetS: 5, driftPpm: 0 }, 1).map((value) => ({
    ...value,
    doubtful: true,
  }));
  expect(alignClock(doubtful, track, LAG)).toMatchObject({
    offsetS: 0,
    used: 0,
    reason: 'the log holds no certain spoken range',
  });
  const never = speak([[900, 10]], { offsetS: 0, driftPpm: 0 }, 1);
  expect(alignClock(never, track, LAG)).toMatchObject({
    offsetS: 0,
    rejected: 1,
    reason: 'no spoken range was crossed in the telemetry',
  });
});

test('the order of the words does not matter', () => {
  const spoken = speak(FLOWN, { offsetS: 37.4, driftPpm: 900 }, 2);
  const forward = alignClock(spoken, track, LAG);
  const backward = alignClock([...spoken].reverse(), track, LAG);
  expect(backward.offsetS).toBeCloseTo(forward.offsetS, 9);
  expect(backward.driftPpm).toBeCloseTo(forward.driftPpm, 6);
});
