/** Plan and rules of the invented sample session. */
import type { Plan } from '@/lib/core/session/plan';
import type { Rule } from '@/lib/core/session/rule';
import { DEG } from './sample-figure';

export const samplePlan: Plan = {
  title: 'Straight-in arrival',
  holdRateMps: 0.02,
  holdDwellS: 10,
  holdCrossSpeedMps: null,
  accelerationMps2: 0.01,
  contactAxialM: 0,
  steps: [
    { kind: 'hold', id: 'hold-100', holdM: 100, toleranceM: 3, plannedS: 90 },
    { kind: 'hold', id: 'hold-30', holdM: 30, toleranceM: 2, plannedS: 60 },
    {
      kind: 'move',
      id: 'approach',
      toM: 0,
      plannedS: 500,
      closingRateMps: [
        [100, 0.25],
        [20, 0.25],
        [12, 0.07],
        [0, 0.07],
      ],
      toleranceMps: 0.03,
    },
  ],
};

export const sampleRules: readonly Rule[] = [
  {
    id: 'closing-rate',
    statement: 'Closing rate stays at or under the braking profile.',
    kind: 'quantity',
    quantity: 'closing_rate',
    sense: 'at-most',
    limit: {
      kind: 'by-range',
      points: [
        [0, 0.1],
        [12, 0.1],
        [14, 0.3],
        [300, 0.4],
      ],
    },
    unit: 'm/s',
    within: { rangeM: [0, 300], axialM: null, step: null },
    persistsS: 2,
  },
  {
    id: 'corridor',
    statement: 'Lateral offset stays inside the approach cone.',
    kind: 'quantity',
    quantity: 'lateral_offset',
    sense: 'at-most',
    limit: { kind: 'cone', halfAngleRad: 3 * DEG, floorM: 0.25 },
    unit: 'm',
    within: { rangeM: null, axialM: [1.5, 80], step: null },
    persistsS: 2,
  },
  {
    id: 'cabin',
    statement: 'The cabin is configured before the approach starts.',
    kind: 'order',
    firstEvent: 'cabin-configured',
    // biome-ignore lint/suspicious/noThenProperty: the rule grammar's own word
    then: { kind: 'step-edge', step: 'approach', edge: 'start' },
    within: null,
    persistsS: 0,
  },
  {
    id: 'cut-off',
    statement: 'No crew command inside the command cut-off distance.',
    kind: 'never',
    event: 'crew-command',
    within: { rangeM: [0, 1.5], axialM: null, step: null },
    persistsS: 0,
  },
  {
    id: 'hold-30-length',
    statement: 'The hold at 30 m lasts no longer than 600 s.',
    kind: 'duration',
    step: 'hold-30',
    atMostS: 600,
    atLeastS: null,
    within: null,
    persistsS: 0,
  },
  {
    id: 'port-pressure',
    statement: 'Port pressure stays under 5 Pa during the approach.',
    kind: 'quantity',
    quantity: 'port_pressure',
    sense: 'at-most',
    limit: { kind: 'constant', value: 5 },
    unit: 'Pa',
    within: { rangeM: null, axialM: null, step: 'approach' },
    persistsS: 0,
  },
];
