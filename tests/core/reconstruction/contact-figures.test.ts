import { expect, test } from 'vitest';
import { contactFigures } from '@/lib/core/reconstruction/contact-figures';
import { expectWithin } from '../../support/expect-within';
import { channel, telemetrySource } from '../../support/flown-session';

/** Half a minute at 0.07 m/s without noise, until contact at 0 s; y and z stay, and their rates are said to be 3 and 4 mm/s. */
function contactOf(...measured: readonly string[]) {
  const tS = Float64Array.from({ length: 301 }, (_, k) => (k - 300) / 10);
  const steady = (value: number) => new Float64Array(tS.length).fill(value);
  const all = [
    channel(
      'x',
      'position.x',
      'm',
      tS.map((s) => -0.07 * s),
    ),
    channel('y', 'position.y', 'm', steady(0.03)),
    channel('z', 'position.z', 'm', steady(0.04)),
    channel('vx', 'velocity.x', 'm/s', steady(-0.07)),
    channel('vy', 'velocity.y', 'm/s', steady(0.003)),
    channel('vz', 'velocity.z', 'm/s', steady(0.004)),
  ].filter(({ name }) => measured.includes(name));
  const rhythm = { kind: 'each-row', periodS: 0.1, longestRun: 1 } as const;
  const channels = all.map((each) => ({ channel: each, rhythm, rejected: null }));
  const source = telemetrySource(tS, all);
  const span = { stepS: 0.1, longestStepS: 0.3, gaps: [], faults: [] };
  return contactFigures(
    { timeS: 0, halfS: 0.1, basis: 'crossing' },
    [{ source, tS, channels, ...span }],
    null,
    { sources: [], channels: [] },
  ).conditions;
}

test('a lateral rate that was measured is not put aside for want of an axial one', () => {
  const { closing_rate, lateral_rate } = contactOf('x', 'y', 'z', 'vy', 'vz');
  expectWithin(closing_rate?.value, 0.07, 1e-6, 'a straight line without noise');
  expectWithin(lateral_rate?.value, 0.005, 1e-12, '3, 4, 5');
  expect(lateral_rate?.evidence.channels).toEqual(['vy', 'vz']);
});

test('without velocity place and rates are those at the end of the position, and their method says so', () => {
  const { closing_rate, lateral_rate, lateral_offset } = contactOf('x', 'y', 'z');
  expectWithin(closing_rate?.value, 0.07, 1e-6, 'a straight line without noise');
  expectWithin(lateral_rate?.value, 0, 1e-6, 'y and z stay');
  expectWithin(lateral_offset?.value, 0.05, 1e-6, '3, 4, 5');
  expect(closing_rate?.method).toMatch(/of the measured position, .* over the last \d+ s of data/);
});
