import { expect, test } from 'vitest';
import { estimateMotion } from '@/lib/core/motion/estimate-motion';
import { findContactTime } from '@/lib/core/phases/contact-time';
import { gaussian } from '../../support/flown-session';
import { motionAlongAxis, rowsTo } from '../../support/motion-along-axis';
import { seededRandom } from '../../support/seeded-random';

/** Straight line from 60 m at 0.25 m/s along the axis; the plane is reached after 240 s. */
function passing(toS: number, besideM: (atS: number) => number) {
  const motion = motionAlongAxis({
    tS: rowsTo(toS, 0.5),
    axialM: (atS) => 60 - 0.25 * atS,
    closingMps: () => 0.25,
  });
  return { ...motion, lateralM: motion.tS.map(besideM) };
}

/** Reasoning: ports touch where they meet; 40 m beside the axis, after a break-off or on a fly-around, nothing does. */
test('a vehicle that passes the plane of the port 40 m beside the axis touches nothing', () => {
  expect(
    findContactTime(
      passing(300, () => 40),
      0,
      null,
    ),
  ).toBeNull();
  // The same where the data end half a second before the plane.
  expect(
    findContactTime(
      passing(239.5, () => 40),
      0,
      null,
    ),
  ).toBeNull();
  expect(
    findContactTime(
      passing(300, () => 40),
      0,
      250,
    )?.basis,
  ).toBe('event');
});

test('a vehicle that comes to the plane off the axis by less than a ring does', () => {
  expect(
    findContactTime(
      passing(300, () => 0.4),
      0,
      null,
    )?.timeS,
  ).toBeCloseTo(240, 6);
});

test('after a pass beside the axis a later approach along it has the contact', () => {
  const axialM = (atS: number) => (atS < 300 ? 60 - 0.25 * atS : -15 + 0.25 * (atS - 300));
  const back = (atS: number) => (atS < 600 ? axialM(atS) : 60 - 0.25 * (atS - 600));
  const motion = motionAlongAxis({
    tS: rowsTo(900, 0.5),
    axialM: back,
    closingMps: (atS) => (atS >= 300 && atS < 600 ? -0.25 : 0.25),
  });
  const flown = { ...motion, lateralM: motion.tS.map((atS) => (atS < 500 ? 40 : 0)) };
  expect(findContactTime(flown, 0, null)?.timeS).toBeCloseTo(840, 6);
});

/**
 * By reasoning: contact at 240 s, then a spring of 0.8 rad/s takes up the motion within two seconds. The position has
 * a slow error of +15 cm, of which its interval knows: its own crossing comes as that error fades, 6 s late.
 */
test('where slow noise of the position leaves the instant open, the stop of a measured rate tells it', () => {
  const springS = (atS: number) => Math.max(0, atS - 240);
  const decay = (atS: number) => Math.exp(-0.5 * springS(atS));
  const motion = motionAlongAxis({
    tS: rowsTo(300, 0.2),
    axialM: (atS) =>
      (atS < 240 ? 0.07 * (240 - atS) : -0.08 * decay(atS) * Math.sin(0.8 * springS(atS))) +
      (atS < 244 ? 0.15 : 0.15 - 0.05 * (atS - 244)),
    closingMps: (atS) => 0.07 * decay(atS) * Math.cos(0.8 * springS(atS)),
    sdM: 0.07,
  });
  const found = findContactTime(motion, 0, null);
  expect(Math.abs((found?.timeS ?? 0) - 240)).toBeLessThan(1);
  expect(found?.basis).toBe('crossing');
  // A position known well that stays 15 cm off has not arrived: its own crossing stands.
  const exact = { ...motion, axialSdM: motion.axialSdM.map(() => 0.002) };
  expect(findContactTime(exact, 0, null)?.timeS).toBeGreaterThan(244);
});

test('a slower rate flown just before the plane is no stop', () => {
  const motion = motionAlongAxis({
    tS: rowsTo(300, 0.2),
    axialM: (atS) => (atS < 200 ? 0.12 + 0.07 * (200 - atS) : 0.12 - 0.03 * (atS - 200)),
    closingMps: (atS) => (atS < 200 ? 0.07 : 0.03),
    sdM: 0.05,
  });
  expect(findContactTime(motion, 0, null)?.timeS).toBeCloseTo(204, 6);
});

// By the motion itself: 0.076 m at 0.112 m/s take 0.68 s.
test('a stop between two rows a second apart is the contact, not the event that was logged after it', () => {
  const stopS = 307.677;
  const motion = motionAlongAxis({
    tS: rowsTo(320, 1),
    axialM: (atS) => Math.max(0, 0.1118 * (stopS - atS)) + 1e-9,
    closingMps: (atS) => (atS < stopS ? 0.1118 : 0),
  });
  const contact = findContactTime(motion, 0, 308.137);
  expect(contact?.basis).toBe('crossing');
  expect(contact?.timeS).toBeCloseTo(stopS, 3);
});

/** Along the axis at 0.05 m/s, a row a second in 2 cm of noise, which is 0.4 s of the way; the plane is reached at 240 s. */
function endingEarly(seed: number, toS: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from(rowsTo(toS, 1));
  const column = (name: string, at: (atS: number) => number) =>
    [
      `position.${name}`,
      { name, values: tS.map((atS) => at(atS) + 0.02 * gaussian(random)), rejected: null },
    ] as const;
  return estimateMotion({
    ...{ tS, longestStepS: 5, stepS: 1, holdRateMps: 0.02, accelerationMps2: 0.01 },
    columns: new Map([
      column('x', (atS) => 0.05 * (240 - atS)),
      column('y', () => 0),
      column('z', () => 0),
    ]),
  });
}

/** Closed form: the distance left over the rate. */
test('where noise leaves open whether data end 2 s before contact, they carry it on unless a log says when', () => {
  const found = [1, 2, 3, 4, 5, 6].map((seed) => findContactTime(endingEarly(seed, 238), 0, null));
  expect(found.filter((contact) => contact?.basis === 'extrapolated')).toHaveLength(6);
  for (const contact of found) {
    expect(Math.abs((contact?.timeS ?? 0) - 240)).toBeLessThan(1.5 * (contact?.halfS ?? 0));
  }
  expect(findContactTime(endingEarly(1, 230), 0, null)).toBeNull();
  const logged = [1, 2, 3, 4, 5, 6].map((seed) => findContactTime(endingEarly(seed, 238), 0, 241));
  expect(logged.filter((contact) => contact?.basis === 'event').length).toBeGreaterThan(0);
});

test('beside the axis nothing is touched either where the last row tells no position', () => {
  const motion = endingEarly(1, 238);
  if (motion === null) throw new Error('no motion');
  expect(findContactTime(motion, 0, null)?.basis).toBe('extrapolated');
  const untold = (column: Float64Array) => column.with(-1, Number.NaN);
  const beside = {
    ...motion,
    axialM: untold(motion.axialM),
    lateralM: untold(motion.lateralM.map(() => 40)),
  };
  expect(findContactTime(beside, 0, null)).toBeNull();
});
