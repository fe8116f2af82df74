/**
 * Commanded phases against motion by closed form: a ramp of 0.01 m/s2 passes the hold rate of 0.02 m/s
 * 2 s after it begins, and comes under it 2 s before it ends.
 */
import { expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { CommandState } from '@/lib/core/session/session-input';
import { commandedRows } from '@/lib/view/commanded-view';
import { expectWithin } from '../../support/expect-within';
import {
  axialMotion,
  channel,
  FLOWN_PLAN,
  flownTelemetry,
  moveParts,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';

const STATES: readonly CommandState[] = [
  { value: 1, name: 'hold', motion: 'hold' },
  { value: 2, name: 'approach', motion: 'closing' },
  { value: 3, name: 'manual', motion: null },
];

/** Closing from 60 s at 0.2 m/s down to 30 m: ramps of 20 s, 330 s between, then a hold of 60 s. */
const PARTS = [...moveParts(0.2, 70, 60), { forS: 60 }];
const RAMP_END_S = 60 + 20 + 330 + 20;

function flown(modeAt: (atS: number) => number) {
  const axial = axialMotion(100, PARTS);
  const telemetry = flownTelemetry({ axial, durationS: RAMP_END_S + 60, stepS: 0.5 });
  const mode = channel('mode', 'vehicle_mode', '1', telemetry.tS.map(modeAt));
  const modes = { channel: 'mode', states: STATES };
  const source = {
    ...telemetry,
    channels: [...telemetry.channels, mode],
    declared: { ...telemetry.declared, modes },
  };
  return reconstruct(sessionOf([source], FLOWN_PLAN), TEST_ENGINE).reconstruction;
}

/** Approach is commanded 1.5 s before the ramp, the hold 10 s before its end, manual at the very end. */
const usual = flown((atS) =>
  atS < 58.5 ? 1 : atS < RAMP_END_S - 10 ? 2 : atS < RAMP_END_S + 40 ? 1 : 3,
);

test('a run follows the mode that commands its motion, by the time between', () => {
  const [first, approach, hold, manual] = usual.commanded ?? [];
  expect(first).toMatchObject({ run: 0, delayS: null, why: 'in force when the data begin' });
  // The change lies between rows half a second apart.
  expectWithin(approach?.startS.value ?? NaN, 58.25, 1e-9, 'middle of two rows');
  expectWithin(approach?.delayS?.value ?? NaN, 62 - 58.25, 0.5, 'noise of the edge');
  expectWithin(hold?.delayS?.value ?? NaN, -2 - -10.25, 0.5, 'noise of the edge');
  expect([approach?.run, hold?.run]).toEqual([1, 2]);
  expect(manual).toMatchObject({ motion: null, run: null, delayS: null, why: null });
});

test('a command for the motion under way, and one that nothing follows, have no delay', () => {
  const odd = flown((atS) => (atS < 30 ? 1 : atS < 40 ? 2 : atS < 200 ? 1 : 2)).commanded ?? [];
  expect(odd.map(({ motion, run, why }) => [motion, run, why])).toEqual([
    ['hold', 0, 'in force when the data begin'],
    ['closing', null, 'no such motion before the next mode'],
    ['hold', 0, 'under way when it was commanded'],
    ['closing', 1, 'under way when it was commanded'],
  ]);
});

test('modes are called by name in the sequence and beside the runs', () => {
  expect(usual.sequence.map(({ what }) => what)).toContain('Mode hold to approach');
  const rows = commandedRows(usual, 'x') ?? [];
  expect(rows.map(({ mode, run }) => [mode, run])).toEqual([
    ['Hold', 'Hold 100'],
    ['Approach', 'To 30'],
    ['Hold', 'Hold 30'],
    ['Manual', null],
  ]);
});
