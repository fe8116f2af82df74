import { expect, test } from 'vitest';
import { checkSource } from '@/lib/core/reconstruction/data-quality';
import { joinSources } from '@/lib/core/reconstruction/joined-source';
import { levelSteps } from '@/lib/core/reconstruction/level-steps';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import { flownTelemetry, gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const WHOLE = flownTelemetry({ axial: () => ({ xM: 1, vMps: 0 }), durationS: 1 });

/** A range at 0.1 m/s with noise of 5 cm, a row a second; it steps by 0.3 m at a hand-over. */
function ranges(file: string, fromS: number, toS: number, stepAtS: number): TelemetrySource {
  const random = seededRandom(fromS + 7);
  const tS = Float64Array.from({ length: toS - fromS + 1 }, (_, row) => fromS + row);
  const rangeM = tS.map((atS) => 100 - 0.1 * atS + (atS < stepAtS ? 0 : 0.3));
  const values = rangeM.map((m) => m + 0.05 * gaussian(random));
  const nav = tS.map((atS) => (atS < stepAtS ? 1 : 2));
  const states = [1, 2].map((value) => {
    return { value, name: `sensor ${value}`, kind: 'measured' as const, settlesS: 5 };
  });
  return {
    ...WHOLE,
    ...{ file, tS, rowsRead: tS.length },
    channels: [
      { name: 'r', as: 'range', unit: 'm', values },
      { name: 'nav', as: 'nav', unit: '1', values: nav },
    ],
    declared: { ...WHOLE.declared, navigation: { selector: 'nav', states } },
  };
}

const checked = (source: TelemetrySource) =>
  checkSource(source, { tS: source.tS, toSession: (atS) => atS, corrections: [] });

/**
 * By hand: far.csv is used up to 300 s, where near.csv begins; the rows after that are beside it. At 400 s the vehicle
 * moves 0.6 m in 5 s, which is motion at 0.1 m/s2 and would be a step to lines on either side of a hand-over there.
 */
test('a hand-over in rows that are not used moves nothing', () => {
  const near = ranges('near.csv', 300, 600, 700);
  near.channels[0]?.values.forEach((m, row, values) => {
    values[row] = m + 0.6 * Math.min(1, Math.max(0, (row - 97) / 5));
  });
  const moved = (stepAtS: number) => {
    const far = checked(ranges('far.csv', 0, 500, stepAtS));
    const best = checked({ ...near, declared: WHOLE.declared });
    const joined = joinSources(best, [best, far]);
    return levelSteps(joined, { accelerationMps2: 0.01 }).moved.map(({ afterS }) => afterS);
  };
  expect(moved(150)).toContain(150);
  expect(moved(400)).not.toContain(400);
});

test('a source without a value in the rows that would be used is not joined', () => {
  const near = checked(ranges('near.csv', 300, 600, 700));
  const far = ranges('far.csv', 0, 500, 700);
  expect(joinSources(near, [checked(far)]).parts.length).toBe(2);
  far.channels[0]?.values.fill(Number.NaN, 0, 300);
  expect(joinSources(near, [checked(far)]).parts.length).toBe(1);
});
