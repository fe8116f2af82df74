import { expect, test } from 'vitest';
import type { Ramp } from '@/lib/core/motion/excursion-fits';
import type { ExcursionPosterior } from '@/lib/core/motion/excursion-posterior';
import { rampShareFromMiddle } from '@/lib/core/motion/excursion-shape';
import { squareShareSd } from '@/lib/core/motion/excursion-square';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const ramp = (middleS: number, lastsS: number): Ramp => ({
  ...{ middleS, lastsS, column: new Float64Array(0), square: 0, product: 0 },
});

/** Of one area, 0.3 m: a flat top, a trapezoid and a jump that is taken back. */
const MEMBERS: ExcursionPosterior['members'] = [
  { up: ramp(-3, 0), down: ramp(3, 0), heightMps: 0.05, kind: 'topped' as const, weight: 0.5 },
  { up: ramp(-3, 4), down: ramp(3, 2), heightMps: 0.05, kind: 'topped' as const, weight: 0.3 },
  { up: ramp(-4, 0), down: ramp(0, 8), heightMps: 0.075, kind: 'falling' as const, weight: 0.2 },
].map((member) => ({ ...member, variance: 0.004 ** 2, prior: 1, netMps: 0, gain: 30 }));

/** The integral of the squared rate by small steps. */
function squareOf({ up, down }: (typeof MEMBERS)[number], heightMps: number): number {
  let sum = 0;
  for (let atS = -10; atS < 10; atS += 0.02) {
    const share =
      rampShareFromMiddle(up.lastsS, atS - up.middleS) -
      rampShareFromMiddle(down.lastsS, atS - down.middleS);
    sum += 0.02 * (heightMps * share) ** 2;
  }
  return sum;
}

test('the square of an excursion is as well known as shapes and heights drawn at random leave it', () => {
  const random = seededRandom(5);
  const draws = Array.from({ length: 1500 }, () => {
    const at = random();
    const member = MEMBERS[at < 0.5 ? 0 : at < 0.8 ? 1 : 2];
    if (member === undefined) return Number.NaN;
    return squareOf(member, member.heightMps + 0.004 * gaussian(random));
  });
  const mean = draws.reduce((sum, each) => sum + each, 0) / draws.length;
  const variance = draws.reduce((sum, each) => sum + (each - mean) ** 2, 0) / draws.length;
  const [best] = MEMBERS;
  if (best === undefined) throw new Error('there are three');
  const found = squareShareSd({ members: MEMBERS, best, unit: 1 });
  // A standard deviation of 1,500 draws is known to 2 %.
  expect(Math.abs(found / (Math.sqrt(variance) / mean) - 1)).toBeLessThan(0.06);
});
