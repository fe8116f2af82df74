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
