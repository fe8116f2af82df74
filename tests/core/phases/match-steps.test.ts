import { expect, test } from 'vitest';
import { matchSteps, type RangedRun } from '@/lib/core/phases/match-steps';
import type { RunMotion } from '@/lib/core/phases/open-runs';
import { FLOWN_PLAN } from '../../support/flown-session';

function runs(...parts: readonly (readonly [RunMotion, number, number])[]): RangedRun[] {
  return parts.map(([motion, rangeStartM, rangeEndM], index) => ({
    motion,
    startS: index * 100,
    endS: index * 100 + 100,
    startHalfS: 0,
    endHalfS: 0,
    rangeStartM,
    rangeEndM,
    rangeMeanM: (rangeStartM + rangeEndM) / 2,
  }));
}

function named(list: readonly RangedRun[]): (string | null)[] {
  return matchSteps(list, FLOWN_PLAN).map(({ stepIndex, piece }) =>
    stepIndex === null ? null : `${FLOWN_PLAN.steps[stepIndex]?.id}/${piece}`,
  );
}

test('steps flown as planned match one by one', () => {
  const flown = runs(
    ['hold', 100, 100],
    ['closing', 100, 30],
    ['hold', 30, 30],
    ['closing', 30, 0],
  );
  expect(named(flown)).toEqual(['hold-100/1', 'to-30/1', 'hold-30/1', 'final/1']);
});

test('a move resumed after an unplanned hold and an opening is flown in pieces', () => {
  const flown = runs(
    ['hold', 100, 100],
    ['closing', 100, 60],
    ['hold', 60, 60],
    ['opening', 60, 70],
    ['closing', 70, 30],
    ['hold', 30, 30],
  );
  expect(named(flown)).toEqual(['hold-100/1', 'to-30/1', null, null, 'to-30/2', 'hold-30/1']);
});

test('a hold that is flown past is skipped', () => {
  const flown = runs(
    ['hold', 100, 100],
    ['closing', 100, 25],
    ['hold', 25, 25],
    ['closing', 25, 0],
  );
  expect(named(flown)).toEqual(['hold-100/1', 'to-30/1', null, 'final/1']);
});

test('a hold outside the tolerance belongs to no step', () => {
  expect(named(runs(['hold', 96, 96], ['closing', 96, 30]))).toEqual([null, 'to-30/1']);
});

test('a closing that starts further out than its step did and flies past its target belongs to a later step', () => {
  const flown = runs(
    ['hold', 100, 100],
    ['closing', 100, 60],
    ['opening', 60, 120],
    ['closing', 120, 0],
  );
  expect(named(flown)).toEqual(['hold-100/1', 'to-30/1', null, 'final/1']);
});

test('a crossing matches no hold', () => {
  expect(named(runs(['crossing', 100, 100], ['hold', 100, 100]))).toEqual([null, 'hold-100/1']);
});

test('a closing from further out that stops at the target belongs to no step', () => {
  const flown = runs(
    ['hold', 100, 100],
    ['closing', 100, 60],
    ['opening', 60, 130],
    ['closing', 130, 30],
    ['hold', 30, 30],
    ['closing', 30, 0],
  );
  expect(named(flown)).toEqual(['hold-100/1', 'to-30/1', null, null, 'hold-30/1', 'final/1']);
});

/** Reasoning: the contract gives a closing after an opening to the move whose start and target it lies between. */
test('after a back-off from a planned hold the way back to it is the move that led there', () => {
  const flown = runs(
    ['hold', 100, 100],
    ['closing', 100, 30],
    ['hold', 30, 30],
    ['opening', 30, 50],
    ['hold', 50, 50],
    ['closing', 50, 30],
    ['hold', 30, 30],
    ['closing', 30, 0],
  );
  expect(named(flown)).toEqual([
    ...['hold-100/1', 'to-30/1', 'hold-30/1', null, null],
    ...['to-30/2', null, 'final/1'],
  ]);
});

test('a short first piece out of a planned hold is the next move, at whichever end of its place', () => {
  for (const heldM of [31.5, 30, 28.5]) {
    const flown = runs(
      ['hold', 100, 100],
      ['closing', 100, heldM],
      ['hold', heldM, heldM],
      ['closing', heldM, heldM - 1.5],
      ['hold', heldM - 1.5, heldM - 1.5],
      ['closing', heldM - 1.5, 0],
    );
    expect(named(flown).filter((step) => step !== null)).toEqual([
      ...['hold-100/1', 'to-30/1', 'hold-30/1', 'final/1', 'final/2'],
    ]);
  }
});

/** Reasoning: the plan keeps the hold to 2 m, so 2 cm further out are the same start. */
test('a second approach from the same hold is the same move, though it starts 2 cm further out', () => {
  const flown = runs(
    ['hold', 100, 100],
    ['closing', 100, 30],
    ['hold', 30, 29.98],
    ['closing', 29.98, 9],
    ['opening', 9, 30],
    ['hold', 30, 30],
    ['closing', 30, 0],
  );
  expect(named(flown)).toEqual([
    ...['hold-100/1', 'to-30/1', 'hold-30/1', 'final/1', null, null, 'final/2'],
  ]);
});
