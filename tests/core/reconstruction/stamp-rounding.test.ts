import { expect, test } from 'vitest';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Rule } from '@/lib/core/session/rule';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import {
  axialMotion,
  FLOWN_PLAN,
  flownTelemetry,
  moveParts,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';

const RULE: Rule = {
  kind: 'quantity',
  id: 'rate',
  statement: 'Under 0.25 m/s.',
  quantity: 'closing_rate',
  sense: 'at-most',
  limit: { kind: 'constant', value: 0.25 },
  unit: 'm/s',
  within: null,
  persistsS: 2,
};

/** At 200 s the rate jumps from 0.2 to 0.4 m/s and is back five seconds later. */
const [hold, speedUp, , slowDown] = moveParts(0.2, 70, 60);
const axial = axialMotion(100, [
  hold ?? { forS: 60 },
  speedUp ?? { forS: 20, accelMps2: -0.01 },
  { forS: 120 },
  { forS: 5, jumpMps: -0.2, accelMps2: 0.04 },
  { forS: 200 },
  slowDown ?? { forS: 20, accelMps2: 0.01 },
  { forS: 60 },
]);
const source = flownTelemetry({ axial, durationS: 480 });

function figuresAt(change: (atS: number, row: number) => number) {
  const moved: TelemetrySource = { ...source, tS: source.tS.map(change) };
  const { reconstruction } = reconstruct(sessionOf([moved], FLOWN_PLAN, [RULE]), TEST_ENGINE);
  return listFigures(reconstruction);
}

/** A Julian date with 13 decimals resolves 9 ns; a stamp may be off by half of that. */
test('stamps rounded to nanoseconds leave every figure where it was', () => {
  const exact = figuresAt((atS) => atS);
  const rounded = figuresAt((atS, row) => (row === 0 ? atS : atS + ((row * 7) % 9) * 1e-9 - 4e-9));
  expect(rounded.size).toBe(exact.size);
  for (const [key, figure] of exact) {
    const other = rounded.get(key);
    expect(Math.abs((other?.value ?? 0) - (figure.value ?? 0)), key).toBeLessThan(1e-6);
  }
});

test('a zero an hour later moves times alone', () => {
  const exact = figuresAt((atS) => atS);
  const later = figuresAt((atS) => atS - 3600);
  for (const [key, figure] of exact) {
    const difference = (later.get(key)?.value ?? 0) - (figure.value ?? 0);
    const moved = Math.abs(difference + 3600) < 1e-6 && figure.unit === 's';
    expect(moved || Math.abs(difference) < 1e-6, `${key}: ${difference}`).toBe(true);
  }
});
