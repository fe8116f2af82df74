/** A rule and a flight against it, for tests of whole sessions. */
import type { QuantityRule } from '@/lib/core/session/rule';
import { axialMotion, moveParts } from './flown-session';

/** Slower near the port, for longer than a second. */
export const RATE_RULE: QuantityRule = {
  kind: 'quantity',
  id: 'rate',
  statement: 'Slow near the port.',
  quantity: 'closing_rate',
  sense: 'at-most',
  limit: {
    kind: 'by-range',
    points: [
      [0, 0.1],
      [29, 0.1],
      [31, 0.3],
      [200, 0.4],
    ],
  },
  unit: 'm/s',
  within: null,
  persistsS: 1,
};

/** 100 m, 30 m, port; a jet adds 0.06 m/s at 598 s, taken back over 3 s. */
export const JOLTED_ARRIVAL = {
  axial: axialMotion(100, [
    ...moveParts(0.2, 70, 60),
    { forS: 60 },
    { forS: 8, accelMps2: -0.01 },
    { forS: 100 },
    { forS: 3, jumpMps: -0.06, accelMps2: 0.02 },
    { forS: 1000 },
  ]),
  durationS: 2000,
} as const;
