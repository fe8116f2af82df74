import { expect, test } from 'vitest';
import { alignClock } from '@/lib/core/callouts/align-clock';
import { type ClockWord, eventWords, handWords } from '@/lib/core/callouts/clock-words';
import { makePassFinder } from '@/lib/core/callouts/range-passes';
import { seededRandom } from '../../support/seeded-random';
import { rangeWord } from '../../support/spoken-approach';

const LAG = { lagS: 0.8, lagSdS: 0.4, lagMeanSdS: 0.1, rangeBiasSdM: 1 };

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
  lagSdS = LAG.lagSdS,
): ClockWord[] {
  const random = seededRandom(seed);
  return ranges.map(([valueM, crossingS], index) => {
    const sessionS = crossingS + LAG.lagS + lagSdS * normal(random);
    return rangeWord(valueM, (sessionS - clock.offsetS) / (1 + clock.driftPpm * 1e-6), index);
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
  const findPasses = makePassFinder(track);
  expect(
    findPasses(110).map(({ timeS, closingMps }) => [Math.round(timeS), closingMps.toFixed(2)]),
  ).toEqual([
    [560, '0.25'],
    [650, '-0.20'],
    [950, '0.20'],
  ]);
  expect(findPasses(300)).toEqual([]);
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
  expect(alignClock([], track, LAG)).toMatchObject({
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

test('a range spoken from another point is a bias, not a drift', () => {
  // Said 0.9 m too large throughout: 4 s late at 0.25 m/s, 13 s at 0.07 m/s.
  const shifted = FLOWN.map(([valueM, crossingS]): [number, number] => [valueM + 0.9, crossingS]);
  const clock = { offsetS: 20, driftPpm: 0 };
  const found = alignClock(speak(shifted, clock, 3), track, LAG);
  expect(found.used).toBe(12);
  expect(found.evidence?.rangeBiasM).toBeCloseTo(0.9, 1);
  expect(Math.abs(found.offsetS - 20)).toBeLessThan(found.offsetUncertaintyS ?? 0);
  // The same words where a bias is ruled out: the log lies seconds off.
  const ruledOut = alignClock(speak(shifted, clock, 3), track, { ...LAG, rangeBiasSdM: 1e-3 });
  expect(Math.abs(ruledOut.offsetS - 20)).toBeGreaterThan(3);
});

test('where the words leave a range bias open, the clock is an offset and a drift', () => {
  // 200 to 40 m at 0.25 and 0.2 m/s, each word 0.8 s after its crossing: a bias of a metre would be 4 to 5 s.
  const clock = { offsetS: 20, driftPpm: 1200 };
  const words = speak(FLOWN.slice(0, 9), clock, 1, 0);
  const found = alignClock(words, track, LAG);
  expect(found.driftPpm).toBeCloseTo(clock.driftPpm, -1);
  expect(found.offsetS).toBeCloseTo(clock.offsetS, 1);
  // What a bias would do is not forgotten: without one, 0.4 s about nine words are 690 ppm (95 %).
  expect(found.driftUncertaintyPpm).toBeGreaterThan(690);
  expect(found.reason).toContain('too alike in closing rate');
});

test('one closing rate alone tells no bias from an offset, and the offset says so', () => {
  const found = alignClock(speak(FLOWN.slice(3, 9), { offsetS: 9, driftPpm: 0 }, 6), track, LAG);
  expect(found.reason).toContain('too alike in closing rate');
  // A metre at 0.2 m/s is 5 s.
  expect(found.offsetUncertaintyS).toBeGreaterThan(5);
});

test('a call of contact is held against contact itself, which no bias moves', () => {
  const slow = speak(FLOWN.slice(3, 9), { offsetS: 9, driftPpm: 0 }, 6);
  const contactS = 1350 + 30 / 0.07;
  const call = {
    event: 'contact',
    text: 'Contact.',
    line: 99,
    sourceS: contactS + 0.9 - 9,
  } as const;
  const known = [{ event: 'contact', timeS: contactS, sdS: 0.05 } as const];
  const found = alignClock([...slow, ...eventWords([call], known, LAG)], track, LAG);
  expect(found.evidence?.ties.at(-1)).toMatchObject({ kind: 'event', used: true });
  expect(Math.abs(found.offsetS - 9)).toBeLessThan(1);
  const without = alignClock(slow, track, LAG);
  expect(found.offsetUncertaintyS).toBeLessThan((without.offsetUncertaintyS ?? 0) / 2);
});

test('a point set by hand decides between two passes and is never rejected', () => {
  const [word] = speak([[110, 560]], { offsetS: 0, driftPpm: 0 }, 1);
  if (word === undefined) throw new Error('no word');
  const hand = handWords([{ sourceS: 100, sessionS: 490, sdS: 0.2 }]);
  const found = alignClock([word, ...hand], track, LAG);
  expect(found).toMatchObject({ used: 2, rejected: 0 });
  // 560 + 390 = 950: the third pass of 110 m.
  expect(found.offsetS).toBeCloseTo(390, 0);
});

test('every word is listed: used ones by weight, rejected ones with the rule, unmet ones too', () => {
  const clock = { offsetS: 37.4, driftPpm: 0 };
  const stray = speak(
    [
      [70, 300],
      [900, 500],
    ],
    clock,
    5,
  );
  const { evidence } = alignClock([...speak(FLOWN, clock, 4), ...stray], track, LAG);
  const ties = evidence?.ties ?? [];
  expect(ties).toHaveLength(14);
  expect(ties.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 9);
  expect(ties.filter(({ used }) => !used).map(({ reason }) => reason.split(' ')[0])).toEqual([
    'outlier:',
    'the',
  ]);
  expect(evidence?.outlierRule).toContain('Iglewicz');
  expect(evidence?.residualBeforeRmsS).toBeGreaterThan(30);
});

test('the clock without a word is the one that a fit without it gives', () => {
  const clock = { offsetS: 12, driftPpm: 3000 };
  const words = speak(FLOWN, clock, 7);
  const all = alignClock(words, track, LAG);
  const tie = all.evidence?.ties.find(({ sourceS }) => sourceS === words[9]?.sourceS);
  const left = alignClock(
    words.filter((_, index) => index !== 9),
    track,
    LAG,
  );
  // The scatter is estimated again without the word, so the two agree to a part of their errors.
  expect(Math.abs((tie?.without?.offsetS ?? NaN) - left.offsetS)).toBeLessThan(0.1);
  expect(Math.abs((tie?.without?.driftPpm ?? NaN) - left.driftPpm)).toBeLessThan(60);
});

test('a point set by hand that no clock meets is left out, and it is said', () => {
  const own = { offsetS: 20, driftPpm: 0 };
  // Two speakers: one point set by hand does not outweigh all of them.
  const words = [...speak(FLOWN, own, 4), ...speak(FLOWN, own, 5)];
  const alone = alignClock(words, track, LAG);
  const bogus = handWords([{ sourceS: 300, sessionS: 1300, sdS: 0.2 }]);
  const found = alignClock([...words, ...bogus], track, LAG);
  expect(found).toMatchObject({ offsetS: alone.offsetS, driftPpm: alone.driftPpm });
  expect(found.rejected).toBe(alone.rejected + 1);
  expect(found.reason).toMatch(/^with the tie points set by hand .* left out/);
  expect(found.evidence?.ties.at(-1)).toMatchObject({ kind: 'hand', used: false, weight: 0 });
});
