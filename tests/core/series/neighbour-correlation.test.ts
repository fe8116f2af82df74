import { expect, test } from 'vitest';
import { meanVarianceFactor, takeSamples } from '@/lib/core/series/samples';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const COLUMNS = 40;

/** Over columns of 3000 rows of a first-order process of variance 1: means of what is told of it. */
function told(rho: number) {
  let [correlation, noise] = [0, 0];
  for (let seed = 1; seed <= COLUMNS; seed++) {
    const random = seededRandom(seed);
    let level = gaussian(random);
    const values = Float64Array.from({ length: 3000 }, () => {
      level = rho * level + Math.sqrt(1 - rho * rho) * gaussian(random);
      return level;
    });
    const samples = takeSamples(
      values.map((_, row) => 0.2 * row),
      values,
      null,
    );
    correlation += samples.correlation / COLUMNS;
    // Of the mean of many rows, in rows; that of such a process is (1 + rho) / (1 - rho) variances.
    const sd = samples.sd.reduce((sum, each) => sum + each, 0) / values.length;
    const ofMean = meanVarianceFactor(samples.correlation) / meanVarianceFactor(rho);
    noise += (sd * Math.sqrt(ofMean)) / COLUMNS;
  }
  return { correlation, noise };
}

// By construction; each column's scatter is known to 3.5 %, forty together to 0.6 % (1 sd).
test('noise that does not hang together is told neither as correlated nor as larger than it is', () => {
  const { correlation, noise } = told(0);
  expect(correlation).toBeLessThan(0.01);
  expect(Math.abs(noise - 1)).toBeLessThan(0.025);
});

test('correlation of neighbours is told where it is there', () => {
  const some = told(0.3);
  expect(Math.abs(some.correlation - 0.3)).toBeLessThan(0.02);
  expect(Math.abs(some.noise - 1)).toBeLessThan(0.04);
  // Where a column hardly shows it, noise is told too small by a few parts in a hundred.
  expect(told(0.1).noise).toBeGreaterThan(0.96);
});
