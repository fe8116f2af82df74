import { expect, test } from 'vitest';
import { rampWayFromMiddleM } from '@/lib/core/motion/excursion-shape';
import { hiddenExcursions } from '@/lib/core/motion/hidden-excursions';
import type { PositionBins } from '@/lib/core/series/whitened-window';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const BIN_S = 0.5;
const BINS = 200;
const SD_M = 0.02;
const PLANNED_MPS = 0.2;
const LENGTHS_S = [2, 4, 8, 14, 22];

function binsOf(valueM: (atS: number) => number): PositionBins {
  const tS = Float64Array.from({ length: BINS }, (_, k) => k * BIN_S);
  const quick = new Float64Array(BINS).fill(SD_M ** 2);
  return { tS, values: tS.map(valueM), quick, slow: new Float64Array(BINS), slowS: 1 };
}

const wayM = (startS: number, lastsS: number, atS: number): number =>
  rampWayFromMiddleM(0, atS - startS) - rampWayFromMiddleM(0, atS - startS - lastsS);

test('the share of steps with an excursion is what their weights add up to', () => {
  // By Bayes' theorem, for steps drawn as is supposed before looking: one in half of them, at any time, evenly by its logarithm.
  const count = 100;
  let [had, said, spread] = [0, 0, 0];
  for (let seed = 1; seed <= count; seed++) {
    const random = seededRandom(seed);
    const has = random() < 0.5;
    const lastsS = LENGTHS_S[Math.floor(5 * random())] ?? 2;
    const heightMps = PLANNED_MPS * 0.02 * 100 ** random() * (random() < 0.5 ? -1 : 1);
    // What moves the rest by 15 standard errors of a sample is not hidden: lines show it.
    if (has && Math.abs(heightMps) * lastsS > 15 * SD_M) continue;
    const middleS = 3 + random() * (BINS * BIN_S - 6);
    const bins = binsOf((atS) => {
      const moved = has ? heightMps * wayM(middleS - lastsS / 2, lastsS, atS) : 0;
      return 50 - 0.01 * atS + moved + SD_M * gaussian(random);
    });
    const { none } = hiddenExcursions([bins], PLANNED_MPS);
    had += has ? 1 : 0;
    said += 1 - none;
    spread += none * (1 - none);
  }
  expect(Math.abs(had - said)).toBeLessThan(2 * Math.sqrt(spread));
  // They tell most steps apart: without looking the spread would be a quarter each.
  expect(spread / count).toBeLessThan(0.15);
  expect(had).toBeGreaterThan(20);
});

test('positions on a straight line leave little of what would have moved them', () => {
  const { none, some } = hiddenExcursions([binsOf((atS) => 50 - 0.1 * atS)], PLANNED_MPS);
  expect(none).toBeGreaterThan(0.7);
  // 4 s of 0.1 m/s move the rest by 20 standard errors of a sample.
  const high = some.filter(({ heightMps, lastsS }) => Math.abs(heightMps) > 0.1 && lastsS >= 4);
  expect(high.reduce((sum, { weight }) => sum + weight, 0)).toBeLessThan(1e-4);
  expect(some.reduce((sum, { weight }) => sum + weight, none)).toBeCloseTo(1, 12);
});

test('a drift of the rate is no excursion', () => {
  // A parabola of 0.3 m over the window, 15 standard errors.
  const { none } = hiddenExcursions([binsOf((atS) => 50 - 0.1 * atS + 1e-4 * atS ** 2)], 0.2);
  expect(none).toBeGreaterThan(0.7);
});

test('nothing to look at leaves what was supposed before: none is likelier by nothing', () => {
  expect(hiddenExcursions([], PLANNED_MPS)).toEqual({ none: 1, some: [] });
});
