import { expect, test } from 'vitest';
import { weighedRamp } from '@/lib/core/motion/weighed-ramp';
import { expectWithin } from '../../support/expect-within';

test('a gain that is a normal law has its middle as the mean', () => {
  const gain = (middleS: number, lastsS: number): number =>
    900 - ((middleS - 103.3) / 0.4) ** 2 - ((lastsS - 12) / 1.5) ** 2;
  const { middleS, lastsS } = weighedRamp(100, [0.3, 70], gain);
  expectWithin(middleS, 103.3, 0.02, 'grid');
  expectWithin(lastsS, 12, 0.05, 'grid');
});

test('of a length that data do not tell up to 8 s the middle is taken, not the shortest', () => {
  const gain = (middleS: number, lastsS: number): number =>
    lastsS > 8 ? 0 : 400 - ((middleS - 100) / 0.2) ** 2;
  const { lastsS } = weighedRamp(100, [0.3, 70], gain);
  expectWithin(lastsS, 4.15, 0.4, 'mean of 0.3 to 8 s');
});

test('a better place than the one found is gone to', () => {
  const near = (middleS: number, at: number): number => Math.exp(-(((middleS - at) / 2) ** 2));
  const gain = (middleS: number, lastsS: number): number =>
    (100 * near(middleS, 100) + 160 * near(middleS, 110)) * Math.exp(-(Math.log(lastsS / 10) ** 2));
  expect(weighedRamp(100, [0.3, 70], gain).middleS).toBeGreaterThan(109);
});
