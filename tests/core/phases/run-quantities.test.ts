import { expect, test } from 'vitest';
import type { RateCourses } from '@/lib/core/motion/rate-courses';
import { peakHalf } from '@/lib/core/phases/run-quantities';
import { expectWithin } from '../../support/expect-within';
import { motionAlongAxis, rowsTo } from '../../support/motion-along-axis';

/** Closing at 0.1 m/s, from 50 s to 60 s read as 0.05 faster; three kinds of 80 courses (see `rate-courses.ts`) there. */
function motionWith(heightMps: (kind: number, share: number) => number) {
  const motion = motionAlongAxis({
    tS: rowsTo(100, 0.2),
    axialM: (atS) => 50 - 0.1 * atS,
    closingMps: (atS) => (atS >= 50 && atS <= 60 ? 0.15 : 0.1),
    sdMps: 0.0005,
  });
  const offsMps = [0, 1, 2].flatMap((kind) =>
    Array.from({ length: 80 }, (_, k) =>
      new Float64Array(51).fill(heightMps(kind, (k + 0.5) / 80) - 0.05),
    ),
  );
  const courses: RateCourses = { fromS: 50, stepS: 0.2, offsMps, squareShare: 0 };
  return { ...motion, rateIsDerived: true, rateCourses: [courses] };
}

/**
 * By hand: of one kind the heights lie evenly over 0.05 +- 0.01, of another over 0.12 +- 0.01: 97.5 % within 0.0795 of the one
 * read.
 */
test('the half-width of a peak is that of the kind of course farthest off', () => {
  const motion = motionWith((kind, share) => (kind === 2 ? 0.12 : 0.05) + 0.02 * (share - 0.5));
  const row = motion.closingMps.indexOf(0.15);
  const rows = { from: 0, to: motion.tS.length };
  expectWithin(
    peakHalf(motion, { column: motion.closingMps, ...rows }, row),
    0.0795,
    0.0003,
    '80 of a kind',
  );
  // Rows that do not meet the courses have the noise of their own.
  expect(peakHalf(motion, { column: motion.closingMps, from: 0, to: 200 }, 10)).toBeLessThan(0.003);
});

test('a peak that the courses take back is that of the rows beside them', () => {
  const motion = motionWith(() => -0.02);
  const row = motion.closingMps.indexOf(0.15);
  const rows = { from: 0, to: motion.tS.length };
  // By hand: 0.1 is left of 0.15, with noise of 0.0005 (1 sd).
  expectWithin(
    peakHalf(motion, { column: motion.closingMps, ...rows }, row),
    0.051,
    0.0015,
    'noise, 3 sd',
  );
});

/** By hand, noise far smaller: 0.05 slower than the mean of 0.1 but for a second, a jump of 0.08 and one of 0.03 that hide. */
test('a jump that does not stand out may be the peak to either side of the mean', () => {
  const motion = motionAlongAxis({
    tS: rowsTo(100, 0.2),
    axialM: (atS) => 50 - 0.1 * atS,
    closingMps: () => 0,
    sdMps: 0.0005,
  });
  const off = motion.tS.map((atS) => (atS >= 50 && atS <= 51 ? -0.05 : 0));
  const half = (jumpMps: number): number => {
    const [unseenMps, unseenJumpMps] = [motion.tS.map(() => 0.01), motion.tS.map(() => jumpMps)];
    const hidden = { ...motion, unseenMps, unseenJumpMps };
    return peakHalf(hidden, { column: off, from: 0, to: motion.tS.length }, 250);
  };
  expectWithin(half(0.08), 0.05 + 0.08, 0.001, 'the mean is nearly none');
  expectWithin(half(0.03), 0.03, 1e-9, 'no larger than 0.05 to the other side');
});
