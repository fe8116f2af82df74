import { expect, test } from 'vitest';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  flownSession,
  flownTelemetry,
  plannedArrival,
  TEST_ENGINE,
} from '../../support/flown-session';

const FLIGHT = { axial: plannedArrival(), durationS: 2000 };

function reconstructed(source: TelemetrySource) {
  const input = { ...flownSession(FLIGHT), sources: [source] };
  return reconstruct(input, TEST_ENGINE).reconstruction;
}

/** Each column takes the value of every fifth row, kept or repeated between. */
function everyFifth(source: TelemetrySource, between: 'repeated' | 'left out'): TelemetrySource {
  const isKept = (_: unknown, row: number) => between === 'repeated' || row % 5 === 0;
  return {
    ...source,
    tS: source.tS.filter(isKept),
    channels: source.channels.map((each) => ({
      ...each,
      values: each.values
        .map((_, row) => each.values[row - (row % 5)] ?? Number.NaN)
        .filter(isKept),
    })),
  };
}

/** By construction: a repeat says nothing new, so a file with repeats is worth the one without them. */
test('held samples count once: repeats make no interval narrower', () => {
  const source = flownTelemetry(FLIGHT);
  const [held, bare] = [everyFifth(source, 'repeated'), everyFifth(source, 'left out')].map(
    reconstructed,
  );
  const halves = (which: typeof held) => [
    which?.phases[0]?.rangeStartM.uncertainty?.random,
    which?.contact?.conditions.closing_rate?.uncertainty?.random,
    which?.contact?.conditions.lateral_offset?.uncertainty?.random,
  ];
  const wanted = halves(bare);
  halves(held).forEach((half, index) => {
    const other = wanted[index] ?? Number.NaN;
    // The rows between two updates are rows of the estimate: how near the last one is differs.
    expectWithin(half, other, 0.35 * other, 'noise told from other neighbours');
  });
});

/** By the definition of the two parts: what a source states of its error is no scatter. */
test('the systematic part is what is stated, whatever the scatter; the random part is not', () => {
  const declared = { accuracy: { position: 0.3, velocity: 0.004 } };
  const of = (noise: number) => {
    const source = flownTelemetry({
      ...FLIGHT,
      stepS: 0.4,
      positionNoise: 0.001 * noise,
      velocityNoiseMps: 0.002 * noise,
    });
    return listFigures(reconstructed({ ...source, declared: { ...source.declared, ...declared } }));
  };
  const [quiet, loud] = [of(1), of(3)];
  const keys = ['phases[0].range_start_m', 'contact.closing_rate_mps', 'contact.lateral_rate_mps'];
  for (const [index, key] of keys.entries()) {
    const stated = index === 0 ? 0.3 : 0.004;
    const [one, other] = [quiet.get(key)?.uncertainty, loud.get(key)?.uncertainty];
    expect([one?.systematic, other?.systematic], key).toEqual([stated, stated]);
    expect(other?.random ?? 0, key).toBeGreaterThan(1.8 * (one?.random ?? Infinity));
  }
});
