import { expect, test } from 'vitest';
import { contactWith } from '@/lib/core/phases/declared-contact';
import { editRuns, type PlacedEdit } from '@/lib/core/phases/edit-runs';
import { endOf, uneditedRuns } from '@/lib/core/phases/edited-run';
import type { RunEdit } from '@/lib/core/session/phase-edit';
import { expectWithin } from '../../support/expect-within';

const said = { by: 'Ada', reason: 'seen on the video' };
const STEPS = ['hold-100', 'to-30'];

/** hold 0..60, closing 60..400, hold 400..500. */
const COMPUTED = uneditedRuns(
  [
    { motion: 'hold' as const, startS: 0, endS: 60, stepIndex: 0 },
    { motion: 'closing' as const, startS: 60, endS: 400, stepIndex: 1 },
    { motion: 'hold' as const, startS: 400, endS: 500, stepIndex: null },
  ].map((run) => ({ ...run, startHalfS: 0.5, endHalfS: 0.5 })),
);

const MOVE = {
  kind: 'move-edge',
  edgeS: 60,
  before: 'hold',
  after: 'closing',
  toS: 72,
  sdS: 2,
  ...said,
} as const;
const SPLIT = { kind: 'split-run', motion: 'closing', atS: 200, sdS: null, ...said } as const;
const NAME = { kind: 'name-run', motion: 'hold', fromS: 400, toS: 500, ...said } as const;

const placed = (edits: readonly RunEdit[]): readonly PlacedEdit[] =>
  edits.map((edit, place) => ({ place, edit }));
const apply = (...edits: readonly RunEdit[]) => editRuns(COMPUTED, placed(edits), STEPS);
const edges = ({ edited }: ReturnType<typeof apply>) => edited.runs.map(({ start }) => start.atS);
const faults = ({ outcomes }: ReturnType<typeof apply>) =>
  [...outcomes.values()].map(({ state, fault }) => fault ?? state);

test('a moved edge ends one run and starts the next, keeps what was computed, and its stated interval', () => {
  const result = apply(MOVE);
  expect(edges(result)).toEqual([0, 72, 400]);
  const edge = endOf(result.edited, 0);
  expect(edge).toMatchObject({ keyS: 60, computed: { atS: 60, halfS: 0.5 }, edit: 0 });
  // Two-sided 95 % point of the normal distribution, 1.96 in every table of it.
  expectWithin(edge.halfS, 3.92, 0.005, 'the table prints two decimals');
  expect(apply({ ...MOVE, sdS: null }).edited.runs[1]?.start.halfS).toBeNaN();
});

test('no corrections give back the computed runs themselves', () => {
  expect(apply().edited).toBe(COMPUTED);
});

test('of two moves of one edge the later counts, and is named by where the edge was computed', () => {
  const result = apply(MOVE, { ...MOVE, toS: 80 });
  expect(edges(result)).toEqual([0, 80, 400]);
  expect(faults(result)).toEqual(['a later correction took its place', 'applied']);
});

test('an edge stays between its neighbours', () => {
  expect(faults(apply({ ...MOVE, toS: 400 }))).toEqual([
    '00:06:40.0 lies past a neighbouring edge: this one can lie between 00:00:00.0 and 00:06:40.0',
  ]);
  expect(edges(apply({ ...MOVE, toS: 400 }))).toEqual([0, 60, 400]);
});

test('an edge that is no longer computed near where it was is not moved', () => {
  expect(faults(apply({ ...MOVE, edgeS: 64.9 }))).toEqual(['applied']);
  expect(faults(apply({ ...MOVE, edgeS: 65.1 }))).toEqual([
    'there is no edge from hold to closing within 5 s of 00:01:05.1',
  ]);
  expect(faults(apply({ ...MOVE, after: 'opening' }))).toEqual([
    'there is no edge from hold to opening within 5 s of 00:01:00.0',
  ]);
});

test('a split leaves both parts with the step; the new edge can be moved and the parts named', () => {
  const result = apply(
    SPLIT,
    { ...MOVE, edgeS: 200, before: 'closing', after: 'closing', toS: 210 },
    { ...NAME, motion: 'closing', fromS: 210, toS: 400, step: null },
  );
  expect(edges(result)).toEqual([0, 60, 210, 400]);
  expect(result.edited.runs.map(({ stepIndex }) => stepIndex)).toEqual([0, 1, null, null]);
  expect(result.edited.runs[2]?.start.computed).toBeNull();
  expect(faults(result)).toEqual(['applied', 'applied', 'applied']);
});

test('with its split undone, what was said of its edge waits and says so', () => {
  const moved = { ...MOVE, edgeS: 200, before: 'closing', after: 'closing', toS: 210 } as const;
  expect(faults(apply(moved))).toEqual([
    'there is no edge from closing to closing within 5 s of 00:03:20.0',
  ]);
});

test('a split outside the runs, on an edge or of another motion is refused', () => {
  expect(faults(apply({ ...SPLIT, atS: 500 }))).toEqual([
    '00:08:20.0 lies outside the runs, which last from 00:00:00.0 to 00:08:20.0',
  ]);
  expect(faults(apply({ ...SPLIT, atS: 60 }))).toEqual(['00:01:00.0 is an edge already']);
  expect(faults(apply({ ...SPLIT, atS: 30 }))).toEqual([
    'at 00:00:30.0 the motion is hold, not closing',
  ]);
});

test('a run goes to a step of the plan or to none; an unknown step and a run that is gone are refused', () => {
  const named = apply({ ...NAME, step: 'hold-100' });
  expect(named.edited.runs[2]).toMatchObject({
    stepIndex: 0,
    computedStepIndex: null,
    namedBy: 0,
  });
  expect(faults(apply({ ...NAME, step: 'hold-7' }))).toEqual(['the plan has no step “Hold 7”']);
  // 60 of 100 s in common is less than two thirds.
  expect(faults(apply({ ...NAME, fromS: 440, step: null }))).toEqual([
    'no hold lasts from about 00:07:20.0 to 00:08:20.0',
  ]);
});

test('the last declaration of contact that fits counts, and what was computed stands beside it', () => {
  const computed = { timeS: 900, halfS: 0.4, basis: 'crossing' } as const;
  const contact = { kind: 'contact', atS: 905, sdS: 1, basis: 'video', ...said } as const;
  const declared = [905, 906, 2000].map((atS, place) => ({ place, edit: { ...contact, atS } }));
  const result = contactWith(computed, declared, [0, 910]);
  expect(result.contact).toMatchObject({ timeS: 906, basis: 'declared' });
  expectWithin(result.contact?.halfS, 1.96, 0.005, 'the table prints two decimals');
  expect([...result.outcomes.values()].map(({ fault }) => fault)).toEqual([
    'a later correction took its place',
    null,
    '00:33:20.0 lies outside the telemetry, which lasts from 00:00:00.0 to 00:15:10.0',
  ]);
  expect(contactWith(computed, [], [0, 910]).contact).toBe(computed);
  expect(contactWith(computed, declared, null).contact).toBe(computed);
});
