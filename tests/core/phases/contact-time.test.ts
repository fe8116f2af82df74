import { expect, test } from 'vitest';
import { findContactTime } from '@/lib/core/phases/contact-time';
import { motionAlongAxis, rowsTo } from '../../support/motion-along-axis';

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
