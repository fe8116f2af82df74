import { expect, test } from 'vitest';
import type { ContactTime } from '@/lib/core/phases/contact-time';
import { contactFigures } from '@/lib/core/reconstruction/contact-figures';
import { expectWithin } from '../../support/expect-within';
import { channel, telemetrySource } from '../../support/flown-session';

const AT_ZERO: ContactTime = { timeS: 0, halfS: 0.1, basis: 'crossing' };

/**
 * Half a minute at 0.07 m/s without noise until contact at 0 s, then at rest to `untilS`; y and z stay, and their rates are
 * said to be 3 and 4 mm/s.
 */
function contactOf(measured: readonly string[], { at = AT_ZERO, untilS = 0 } = {}) {
  const tS = Float64Array.from({ length: 301 + 10 * untilS }, (_, k) => (k - 300) / 10);
  const steady = (value: number) => new Float64Array(tS.length).fill(value);
  const all = [
    channel(
      'x',
      'position.x',
      'm',
      tS.map((s) => Math.max(0, -0.07 * s)),
    ),
    channel('y', 'position.y', 'm', steady(0.03)),
    channel('z', 'position.z', 'm', steady(0.04)),
    channel(
      'vx',
      'velocity.x',
      'm/s',
      tS.map((s) => (s <= 0 ? -0.07 : 0)),
    ),
    channel('vy', 'velocity.y', 'm/s', steady(0.003)),
    channel('vz', 'velocity.z', 'm/s', steady(0.004)),
  ].filter(({ name }) => measured.includes(name));
  const rhythm = { kind: 'each-row', periodS: 0.1, longestRun: 1 } as const;
  const channels = all.map((each) => ({ channel: each, rhythm, rejected: null }));
  const source = telemetrySource(tS, all);
  const span = { stepS: 0.1, longestStepS: 0.3, gaps: [], faults: [] };
  return contactFigures(at, [{ source, tS, channels, ...span }], null, {
    sources: [],
    channels: [],
  }).conditions;
}

test('a lateral rate that was measured is not put aside for want of an axial one', () => {
  const { closing_rate, lateral_rate } = contactOf(['x', 'y', 'z', 'vy', 'vz']);
  expectWithin(closing_rate?.value, 0.07, 1e-6, 'a straight line without noise');
  expectWithin(lateral_rate?.value, 0.005, 1e-12, '3, 4, 5');
  expect(lateral_rate?.evidence.channels).toEqual(['vy', 'vz']);
});

test('without velocity place and rates are those at the end of the position, and their method says so', () => {
  const { closing_rate, lateral_rate, lateral_offset } = contactOf(['x', 'y', 'z']);
  expectWithin(closing_rate?.value, 0.07, 1e-6, 'a straight line without noise');
  expectWithin(lateral_rate?.value, 0, 1e-6, 'y and z stay');
  expectWithin(lateral_offset?.value, 0.05, 1e-6, '3, 4, 5');
  expect(closing_rate?.method).toMatch(/of the measured position, .* over the last \d+ s of data/);
});

test('what may already be of the stop is no part of the last second before contact', () => {
  const late = { at: { ...AT_ZERO, timeS: 0.6, halfS: 0.7 }, untilS: 20 };
  const measured = contactOf(['x', 'y', 'z', 'vx', 'vy', 'vz'], late);
  expectWithin(measured.closing_rate?.value, 0.07, 1e-12, 'no row at rest');
  const derived = contactOf(['x', 'y', 'z'], late);
  expectWithin(derived.closing_rate?.value, 0.07, 1e-6, 'a straight line without noise');
});
