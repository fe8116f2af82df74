import { expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Rule } from '@/lib/core/session/rule';
import type { SessionInput } from '@/lib/core/session/session-input';
import { flownSession, plannedArrival, TEST_ENGINE } from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';

const NEAR: Rule = {
  ...RATE_RULE,
  id: 'near',
  within: { rangeM: [0, 25], axialM: null, step: null },
};
const FAR: Rule = {
  ...RATE_RULE,
  id: 'far',
  within: { rangeM: [60, 200], axialM: null, step: null },
};

/** A planned arrival whose columns are changed from one row to another, within the first hold. */
function explanations(as: string, change: (values: Float64Array) => void): readonly string[] {
  const flown = flownSession({ axial: plannedArrival(), durationS: 2000, rules: [NEAR, FAR] });
  const sources = flown.sources.map((source): SessionInput['sources'][number] => {
    if (source.type !== 'telemetry') return source;
    const pressure = { name: 'tank', as: 'tank', unit: 'm', values: source.tS.map(Math.sin) };
    const channels = [...source.channels, pressure].map((channel) => {
      if (channel.as !== as) return channel;
      const values = channel.values.slice();
      change(values);
      return { ...channel, values };
    });
    return { ...source, channels };
  });
  const { reconstruction } = reconstruct({ ...flown, sources }, TEST_ENGINE);
  return reconstruction.rules.map(({ explanation }) => explanation);
}

const freeze = (values: Float64Array): void => {
  values.fill(values[20] ?? 0, 20, 120);
};

test('a rule that was evaluated over a frozen channel says so, one that applies elsewhere does not', () => {
  const [near, far] = explanations('velocity.x', freeze);
  expect(near).not.toMatch(/faults of the data/);
  expect(far).toMatch(
    /It was evaluated over faults of the data: frozen in \w+, 00:00:\d\d\.\d to 00:\d\d:\d\d\.\d\.$/,
  );
});

test('a fault of a channel that does not feed the quantity is not told with the rule', () => {
  expect(explanations('tank', freeze).join()).not.toMatch(/faults of the data/);
});
