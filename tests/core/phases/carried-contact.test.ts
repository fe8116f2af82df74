import { expect, test } from 'vitest';
import { NORMAL_95 } from '@/lib/core/math/statistics';
import { estimateMotion } from '@/lib/core/motion/estimate-motion';
import { carriedContact } from '@/lib/core/phases/carried-contact';
import { findContactTime } from '@/lib/core/phases/contact-time';
import { takeSamples } from '@/lib/core/series/samples';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const CONTACT_S = 110.3;

/** Closing at 0.03 m/s, resting at `restM` from `CONTACT_S` on; 1 Hz, noise of 0.05 m, no velocity. */
function stopsAtPlane(seed: number, restM: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: 160 }, (_, k) => k);
  const column = (name: string, trueM: (atS: number) => number) => ({
    name,
    values: tS.map((atS) => trueM(atS) + 0.05 * gaussian(random)),
    rejected: null,
  });
  const x = column('px', (atS) => (atS < CONTACT_S ? 0.03 * (CONTACT_S - atS) : restM));
  const columns = new Map([
    ['position.x', x],
    ['position.y', column('py', () => 0)],
    ['position.z', column('pz', () => 0)],
  ]);
  return { tS, columns, x };
}

function contactS(restM: number): number {
  const { tS, columns } = stopsAtPlane(1, restM);
  const motion = estimateMotion({
    ...{ tS, columns, longestStepS: 3, stepS: 1 },
    ...{ holdRateMps: 0.01, accelerationMps2: 0.01 },
  });
  const contact = findContactTime(motion, 0, null);
  expect(contact?.basis).toBe('crossing');
  return contact?.timeS ?? Number.NaN;
}

/**
 * By arithmetic: 60 values tell the end of a line to 2 x 0.05 / 60^1/2 = 0.013 m (1 sd), 0.43 s at 0.03 m/s; data that end
 * some seconds before the plane, and a rate that may wander, make it up to twice that. A first idea that is 4.5 s late has
 * no part in it; where the rate seems to wander too much to tell (once in 20), it stays.
 */
test('a position is carried on to the plane by the motion before, with 20 seeds', () => {
  const errorsS: number[] = [];
  for (let seed = 1; seed <= 20; seed++) {
    const { tS, x } = stopsAtPlane(seed, -0.01);
    const samples = takeSamples(tS, x.values, null);
    const found = carriedContact(samples, 0, {
      ...{ timeS: CONTACT_S + 4.5, halfS: 7 },
      nearS: CONTACT_S - (3 * 0.05) / 0.03,
    });
    if (found === null) continue;
    expect(found.halfS).toBeLessThan(4 * 0.43 * NORMAL_95);
    expectWithin(found.timeS, CONTACT_S, 1.25 * found.halfS, '2.5 standard errors');
    errorsS.push(found.timeS - CONTACT_S);
  }
  expect(errorsS.length).toBeGreaterThanOrEqual(18);
  const mean = errorsS.reduce((sum, errorS) => sum + errorS, 0) / errorsS.length;
  expectWithin(mean, 0, 0.4, 'twice the error of a mean of 20');
  expect(Math.sqrt(errorsS.reduce((sum, one) => sum + one ** 2, 0) / errorsS.length)).toBeLessThan(
    0.86,
  );
});

test('where the vehicle comes to rest after contact moves its instant by little', () => {
  expectWithin(contactS(-0.01), contactS(-0.06), 0.7, 'its noise alone is looked at anew');
});

/**
 * By arithmetic: 110 values tell the end of a line to 2 x 0.05 / 110^1/2 = 0.0095 m (1 sd), 0.32 s at 0.03 m/s; lines over 15 s
 * up to the end, as the smoothed motion has them, to twice that.
 */
test('data that end a little before the plane are carried on by minutes of them, with 20 seeds', () => {
  const [errorsS, halvesS]: [number[], number[]] = [[], []];
  for (let seed = 1; seed <= 20; seed++) {
    const { tS, columns } = stopsAtPlane(seed, 0);
    const ended = new Map(
      [...columns].map(([as, column]) => [as, { ...column, values: column.values.slice(0, 110) }]),
    );
    const motion = estimateMotion({
      ...{ tS: tS.slice(0, 110), columns: ended, longestStepS: 3, stepS: 1 },
      ...{ holdRateMps: 0.01, accelerationMps2: 0.01 },
    });
    const contact = findContactTime(motion, 0, null);
    if (contact?.basis !== 'extrapolated') continue;
    expectWithin(contact.timeS, CONTACT_S, 1.5 * (contact.halfS ?? 0), 'three standard errors');
    errorsS.push(contact.timeS - CONTACT_S);
    halvesS.push(contact.halfS ?? Number.NaN);
  }
  expect(errorsS.length).toBeGreaterThanOrEqual(10);
  const square = errorsS.reduce((sum, one) => sum + one ** 2, 0) / errorsS.length;
  expect(Math.sqrt(square)).toBeLessThan(1.5 * 0.32);
  expect(halvesS.sort((a, b) => a - b)[errorsS.length >> 1]).toBeLessThan(2 * 0.32 * NORMAL_95);
});
