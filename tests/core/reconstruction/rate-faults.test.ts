import { expect, test } from 'vitest';
import { rateFaults } from '@/lib/core/reconstruction/rate-faults';
import type { Channel, TelemetrySource } from '@/lib/core/session/session-input';
import { flownSession } from '../../support/flown-session';
import { AXIAL } from '../../support/spoken-session';

const flown = flownSession({ axial: AXIAL, durationS: 1200 }).sources[0];

/** The flown telemetry with positions and a range rate, no range and no velocity. */
function withRangeRate(sign: 1 | -1): TelemetrySource {
  if (flown?.type !== 'telemetry') throw new Error('no telemetry');
  const [template] = flown.channels;
  if (template === undefined) throw new Error('no channel');
  const values = flown.tS.map((timeS) => sign * AXIAL(timeS).vMps);
  const rate: Channel = { ...template, name: 'rr', as: 'range_rate', values };
  const positions = flown.channels.filter(({ as }) => as.startsWith('position.'));
  return { ...flown, channels: [...positions, rate] };
}

const faults = (source: TelemetrySource) => rateFaults(source, source.tS, 10);

// Range rate is the derivative of the distance, negative while closing: elementary.
test('a range rate positive while the position closes is a fault of the source', () => {
  expect(faults(withRangeRate(-1))).toMatchObject([
    {
      kind: 'rate_disagrees',
      channel: 'rr',
      note: expect.stringMatching(/^the distance from .* one of them has the other sign$/),
    },
  ]);
});

test('one that agrees with the distance is none', () => {
  expect(faults(withRangeRate(1))).toEqual([]);
});

// n times r of a low orbit (0.00113 rad/s) lies on the rate across the axis; the position itself keeps still.
test('a velocity that has nothing to do with its position is given no sign', () => {
  if (flown?.type !== 'telemetry') throw new Error('no telemetry');
  const channels = flown.channels.map((channel) =>
    channel.as === 'velocity.z'
      ? { ...channel, values: flown.tS.map((timeS) => 0.00113 * AXIAL(timeS).xM) }
      : channel,
  );
  const [fault] = faults({ ...flown, channels });
  expect(fault).toMatchObject({ kind: 'rate_disagrees', channel: 'vz' });
  expect(fault?.note).toMatch(/^z changes -?0\.0\d times .*they do not go together/);
  expect(fault?.note).not.toContain('-0.00');
});
