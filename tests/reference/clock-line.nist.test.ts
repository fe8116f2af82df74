/**
 * Source: NIST Statistical Reference Datasets, linear regression, "Norris" (36 observations of two
 * ozone monitors): certified B0, B1, their standard deviations and the residual one. Data and
 * certified values from memory; a wrong digit in either would break the agreement below.
 */
import { expect, test } from 'vitest';
import { student975 } from '@/lib/core/clock/error-scale';
import { fitLine, type TiePoint, type WeighedPoint } from '@/lib/core/clock/fit-line';

const NORRIS: readonly TiePoint[] = [
  [0.2, 0.1],
  [337.4, 338.8],
  [118.2, 118.1],
  [884.6, 888],
  [10.1, 9.2],
  [226.5, 228.1],
  [666.3, 668.5],
  [996.3, 998.5],
  [448.6, 449.1],
  [777, 778.9],
  [558.2, 559.2],
  [0.4, 0.3],
  [0.6, 0.1],
  [775.5, 778.1],
  [666.9, 668.8],
  [338, 339.3],
  [447.5, 448.9],
  [11.6, 10.8],
  [556, 557.7],
  [228.1, 228.3],
  [995.8, 998],
  [887.6, 888.8],
  [120.2, 119.6],
  [0.3, 0.3],
  [0.3, 0.6],
  [556.8, 557.6],
  [339.1, 339.3],
  [887.2, 888],
  [999, 998.5],
  [779, 778.9],
  [11.1, 10.2],
  [118.3, 117.6],
  [229.2, 228.9],
  [669.1, 668.4],
  [448.9, 449.2],
  [0.5, 0.2],
];

const alike = (sdS: number): WeighedPoint[] =>
  NORRIS.map(([sourceS, sessionS]) => ({ sourceS, sessionS, sdS }));

/** Half the observations twice, each with the weight of a half: as many as the data say. */
const halved = NORRIS.flatMap(([sourceS, sessionS], index): WeighedPoint[] => {
  const half = { sourceS, sessionS, sdS: Math.SQRT2 };
  return index % 2 === 0 ? [half, half] : [{ ...half, sdS: 1 }];
});

test.each([
  ['alike', alike(1)],
  ['alike at 0.05 s', alike(0.05)],
  ['by unequal weights of the same sum', halved],
])('weighed %s, offset and drift are the certified intercept and slope', (_, points) => {
  const fit = fitLine(points);
  const sdS = points[1]?.sdS === 0.05 ? 0.05 : 1;
  const scatter = Math.sqrt(fit.misfit / (NORRIS.length - 2));
  expect(fit.offsetS).toBeCloseTo(-0.262323073774029, 11);
  expect(1 + fit.drift).toBeCloseTo(1.00211681802045, 13);
  expect(scatter * sdS).toBeCloseTo(0.884796396144373, 12);
  expect(fit.offsetErrorS * scatter).toBeCloseTo(0.232818234301152, 12);
  expect(fit.driftError * scatter).toBeCloseTo(0.429796848199937e-3, 14);
});

/** Source: NIST/SEMATECH e-Handbook 1.3.6.7.2, column 0.975, rows 1, 10, 40, 60, 100. */
test.each([
  [1, 12.706],
  [10, 2.228],
  [40, 2.021],
  [60, 2.0],
  [100, 1.984],
])('Student t at 0.975 for %i degrees is %d', (degrees, expected) => {
  expect(Math.abs(student975(degrees) - expected)).toBeLessThan(0.0005);
});
