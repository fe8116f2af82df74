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
