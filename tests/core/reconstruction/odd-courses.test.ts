/**
 * Flights that do not go as planned, made by closed forms: broken off and begun again, begun before the
 * data, past a target without a hold, away from the port. What each should be called is common practice,
 * no source; instants and ranges are those of the closed form.
 */
import { expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { finalMove } from '@/lib/core/reconstruction/final-step';
import {
  breakOffs,
  cutStep,
  flownAgain,
  runKind,
  unflownWhy,
} from '@/lib/core/reconstruction/flight-course';
import { completionOf } from '@/lib/core/reconstruction/kind-words';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { nameOfRun } from '@/lib/core/reconstruction/run-name';
import type { Plan } from '@/lib/core/session/plan';
import { phasesView } from '@/lib/view/phases-view';
import { expectWithin } from '../../support/expect-within';
import {
  type AxialPart,
  axialMotion,
  FLOWN_PLAN,
  flownSession,
  moveParts,
  TEST_ENGINE,
} from '../../support/flown-session';

function flown(startM: number, parts: readonly AxialPart[], plan: Plan = FLOWN_PLAN) {
  const durationS = parts.reduce((sum, part) => sum + part.forS, 0);
  const axial = axialMotion(startM, parts);
  return reconstruct(flownSession({ axial, durationS, stepS: 1, plan }), TEST_ENGINE)
    .reconstruction;
}

/** Closed form of a move outwards: the same ramps with the signs turned. */
function awayParts(rateMps: number, wayM: number, holdS: number): readonly AxialPart[] {
  return moveParts(rateMps, wayM, holdS).map((part) =>
    part.accelMps2 === undefined ? part : { ...part, accelMps2: -part.accelMps2 },
  );
}

const TO_30 = moveParts(0.2, 70, 60);

test('an opening beyond the start of the move before it is a break-off, and what follows is flown again', () => {
  const second = flown(100, [
    ...TO_30,
    ...moveParts(0.08, 15, 60),
    ...awayParts(0.3, 85, 0),
    ...moveParts(0.2, 70, 120),
    ...moveParts(0.08, 30, 60),
    { forS: 60 },
  ]);
  const { phases } = second;
  const names = phases.map(({ step }, index) => [
    step ?? flownAgain(second, index),
    runKind(second, index),
  ]);
  expect(names).toEqual([
    ['hold-100', 'hold'],
    ['to-30', 'closing'],
    ['hold-30', 'hold'],
    ['final', 'closing'],
    [null, 'break-off'],
    ['hold-100', 'hold'],
    ['to-30', 'closing'],
    ['hold-30', 'hold'],
    ['final', 'closing'],
  ]);
  // Who gave the run to no step has said that it is none of them.
  const named = second.phases.map((phase, index) =>
    index === 6 ? { ...phase, stepSet: { by: 'R. Okafor', computedStep: 'to-30' } } : phase,
  );
  expect(flownAgain({ plan: second.plan, phases: named }, 6)).toBeNull();
  expect(breakOffs(second)).toEqual([{ at: 4, again: 6 }]);
  expect(phases[4]?.rangeStartM.value).toBeCloseTo(15, 0);
  expect(second.sequence.map(({ what }) => what)).toEqual(
    expect.arrayContaining(['Break-off starts', 'Hold 100 again starts', 'To 30 again starts']),
  );
  const again = second.notes.filter(({ code }) => code === 'step-flown-again');
  expect(again.map(({ message }) => message.split(' was ')[0])).toEqual([
    'Hold 100',
    'To 30',
    'Hold 30',
  ]);
});

test('after a break-off that is the end of it, steps to come were not flown and there is no contact', () => {
  const off = flown(100, [...TO_30, ...moveParts(0.08, 15, 60), ...awayParts(0.3, 100, 0)]);
  expect(off.phases.map((_, index) => nameOfRun(off, index)).at(3)).toBe('Final');
  expect(off.phases.map((_, index) => nameOfRun(off, index)).at(4)).toBe('Break-off');
  const early = flown(100, [...moveParts(0.2, 50, 60), ...awayParts(0.3, 70, 0)]);
  expect(breakOffs(early)).toEqual([{ at: 2, again: null }]);
  expect(early.steps.map((_, index) => unflownWhy(early, index)).slice(2)).toEqual([
    'broken off',
    'broken off',
  ]);
  const contact = early.sequence.find(({ kind }) => kind === 'contact');
  expect(contact?.note).toBe('the approach was broken off');
  expect(contact?.notKnown).toBeUndefined();
});

test('an opening that stays inside the move before it is a back-off', () => {
  const { phases, plan } = flown(100, [
    ...moveParts(0.2, 50, 60),
    ...awayParts(0.1, 10, 30),
    ...moveParts(0.2, 30, 40),
    { forS: 60 },
  ]);
  const opening = phases.findIndex(({ motion }) => motion === 'opening');
  expect(runKind({ phases, plan }, opening)).toBe('back-off');
  expect(breakOffs({ phases, plan })).toEqual([]);
});

test('a move under way when the data begin hides no step before it and starts no timetable', () => {
  const middle = flown(70, [
    { forS: 180, jumpMps: -0.2 },
    { forS: 20, accelMps2: 0.01 },
    ...moveParts(0.08, 30, 60),
    { forS: 60 },
  ]);
  expect(cutStep(middle)).toBe(1);
  const [before, toMid, hold] = middle.sequence;
  expect(before).toMatchObject({ what: 'Hold 100 starts', notKnown: 'the data begin after it' });
  expect(toMid).toMatchObject({ note: 'under way when the data begin', plannedS: null });
  expect(hold?.what).toBe('Hold 30 starts');
  expect(hold?.differenceS?.value).toBe(0);
  const rows = phasesView(middle, 'x').rows;
  expect(rows[0]).toMatchObject({ state: 'not known: the data begin after it' });
});

test('a move past its target without a hold says which steps are counted with it', () => {
  const passed = flown(100, [
    { forS: 60 },
    { forS: 20, accelMps2: -0.01 },
    { forS: 340 },
    { forS: 12, accelMps2: 0.01 },
    { forS: 400 },
  ]);
  const note = passed.notes.find(({ code }) => code === 'target-passed');
  // 2 m by the ramp, then 68 m at 0.2 m/s: 30 m is passed 420 s after the start.
  expect(note?.message).toContain('To 30 went on past its target of 30 m at 00:07:0');
  expect(note?.message).toContain('no motion is left for Hold 30 and Final');
  expect(passed.steps.map((_, index) => unflownWhy(passed, index)).slice(2)).toEqual([
    'passed over',
    'passed over',
  ]);
});

const DEPARTURE: Plan = {
  ...FLOWN_PLAN,
  title: 'Departure',
  steps: [
    { kind: 'hold', id: 'near', holdM: 2, toleranceM: 1, plannedS: 60 },
    {
      kind: 'move',
      id: 'out',
      toM: 40,
      plannedS: 390,
      closingRateMps: [
        [2, -0.1],
        [40, -0.1],
      ],
      toleranceMps: 0.03,
    },
  ],
};

test('a plan that leads away waits for no contact, and its opening is no back-off', () => {
  const away = flown(2, [...awayParts(0.1, 38, 60), { forS: 60 }], DEPARTURE);
  expect(away.phases.map(({ step }) => step)).toEqual(['near', 'out', null]);
  expect(runKind(away, 1)).toBe('opening');
  expect(away.sequence.some(({ kind }) => kind === 'contact')).toBe(false);
  expect(away.notes.some(({ code }) => code === 'no-contact')).toBe(false);
});

/** A departure that ends in a hold planned for a minute. */
const HELD: Plan = {
  ...DEPARTURE,
  steps: [...DEPARTURE.steps, { kind: 'hold', id: 'far', holdM: 40, toleranceM: 2, plannedS: 60 }],
};

test('the hold that ends a plan is completed once it has lasted as planned; no other is before it is left', () => {
  const completed = (holdS: number, plan: Plan) =>
    flown(2, [...awayParts(0.1, 38, 60), { forS: holdS }], plan).steps.map(
      (step) => step.completed,
    );
  expect(completed(80, HELD)).toEqual([true, true, true]);
  expect(completed(40, HELD)).toEqual([true, true, false]);
  const goesOn: Plan = {
    ...HELD,
    steps: [
      ...HELD.steps,
      {
        kind: 'move',
        id: 'farther',
        toM: 80,
        plannedS: 400,
        closingRateMps: [
          [40, -0.1],
          [80, -0.1],
        ],
        toleranceMps: 0.03,
      },
    ],
  };
  expect(completed(80, goesOn)).toEqual([true, true, false, false]);
});

test('what a move past its target did not come to either is not said to lie in its run', () => {
  const farther = { ...DEPARTURE.steps[1], id: 'farther', toM: 80 } as Plan['steps'][number];
  const farthest: Plan['steps'][number] = {
    ...{ kind: 'hold', id: 'farthest', holdM: 80, toleranceM: 2, plannedS: 60 },
  };
  const plan: Plan = { ...HELD, steps: [...HELD.steps, farther, farthest] };
  const passed = flown(2, [...awayParts(0.1, 58, 60), { forS: 60 }], plan);
  expect(passed.phases.map(({ step }) => step)).toEqual(['near', 'out', null]);
  // From 2 m to 60 m: over the hold at 40 m, into the way to 80 m.
  expect(passed.steps.map((_, index) => unflownWhy(passed, index)).slice(2)).toEqual([
    'passed over',
    'passed over',
    'after the data',
  ]);
  const note = passed.notes.find(({ code }) => code === 'target-passed');
  expect(note?.message).toContain('no motion is left for Far and Farther.');
});

test('a last hold within the interval of its length of being long enough is undecided, not short', () => {
  const lastHold = (plannedS: number) => {
    const steps = HELD.steps.map((step) => (step.id === 'far' ? { ...step, plannedS } : step));
    const parts = [...awayParts(0.1, 38, 60), { forS: 60 }];
    const end = flown(2, parts, { ...HELD, steps }).steps.at(-1);
    if (end?.durationS?.value == null) throw new Error('the last hold was not flown');
    return { end, lastedS: end.durationS.value, half: halfWidth95(end.durationS) ?? 0 };
  };
  const { lastedS, half } = lastHold(60);
  expect(half).toBeGreaterThan(0);
  const offs = [-1.5, -0.5, 0.5, 1.5];
  expect(offs.map((times) => completionOf(lastHold(lastedS + times * half).end))).toEqual([
    'completed',
    'completion undecided',
    'completion undecided',
    'not completed',
  ]);
});

test('the move before the hold that ends a departure is the one that is compared', () => {
  expect(finalMove(HELD)?.id).toBe('out');
  expect(finalMove(FLOWN_PLAN)?.id).toBe('final');
  expect(
    finalMove({ ...HELD, steps: HELD.steps.filter(({ kind }) => kind === 'hold') }),
  ).toBeNull();
});

/** A departure whose planned rate grows with range, flown at one rate: 0.04 m/s too slow far out. */
const GROWING: Plan = {
  ...DEPARTURE,
  steps: DEPARTURE.steps.map((step) =>
    step.kind === 'move'
      ? {
          ...step,
          closingRateMps: [
            [0, -0.1],
            [40, -0.2],
          ],
        }
      : step,
  ),
};
const OUT_MPS = 0.16;
const OUT = [...awayParts(OUT_MPS, 38, 60), { forS: 80 }];
/** v2/(2a) at the planned rates of 2 m (0.105) and 40 m (0.2), with 0.01 m/s2. */
const PROFILED_M = [2 + 0.105 ** 2 / 0.02, 40 - 0.2 ** 2 / 0.02].map((m) => Math.max(3, m));
const plannedOut = (rangeM: number) => -0.1 - (0.1 / 40) * rangeM;

test('a move outwards is held against its profile with the sign of the closing rate', () => {
  const { phases } = flown(2, OUT, GROWING);
  const move = phases.find(({ step }) => step === 'out');
  const deviation = move?.rateDeviation;
  const [nearM = 0, farM = 0] = PROFILED_M;
  // At one rate means over time are means over range, and those of a straight line lie in its middle.
  expectWithin(
    deviation?.meanMps.value,
    -OUT_MPS - plannedOut((nearM + farM) / 2),
    0.002,
    'noise, and a flown ramp of 1.28 m where 0.55 m were planned',
  );
  // Nearest to the port the planned rate is least, and the vehicle still on its ramp: far out it is too slow.
  const peak = deviation?.peakMps;
  expectWithin(peak?.value, -OUT_MPS - plannedOut(3.28), 0.01, 'noise of one row');
  expect(peak?.value).toBeLessThan(0);
  expect(deviation?.peakRangeM.value).toBeLessThan(12);
  expect(deviation?.meanMps.method).toContain('below zero: opening faster');
  // Over the tolerance of 0.03 m/s inside the range at which 0.13 m/s are planned, and beyond that of 0.19.
  const outsideM = 12 - 3.28 + Math.max(0, farM - 36);
  expectWithin(deviation?.outsideToleranceS.value, outsideM / OUT_MPS, 25, 'noise at the bound');
});

test('the screen of the approach follows a departure outwards', () => {
  const { approach } = flown(2, OUT, GROWING);
  const { stations = [], deviations = [] } = approach ?? {};
  expect(stations.flatMap(({ kind, of }) => (kind === 'range' && of !== 2 ? [of] : []))).toEqual([
    5, 10, 20, 30,
  ]);
  expect(deviations.length).toBeGreaterThan(4);
  expect(deviations.map(({ part }) => part)).toEqual([
    'first-metres',
    ...Array.from({ length: deviations.length - 2 }, () => 'profile'),
    'braking',
  ]);
  const ends = deviations.map(({ toM }) => toM);
  expect([...ends].sort((a, b) => a - b)).toEqual(ends);
  for (const { part, fromM, toM, deviationMps, plannedMps } of deviations.slice(2)) {
    if (part !== 'profile') continue;
    expectWithin(plannedMps, plannedOut((fromM + toM) / 2), 0.001, 'rows at the ends');
    expectWithin(deviationMps.value, -OUT_MPS - plannedOut((fromM + toM) / 2), 0.003, 'noise');
  }
  const at20 = stations.find(({ kind, of }) => kind === 'range' && of === 20);
  expectWithin(at20?.closingMps.value, -OUT_MPS, 0.005, 'noise');
  expectWithin(at20?.plannedMps, plannedOut(20), 0.001, 'the range to some cm');
  expectWithin(at20?.toGoByRateS?.value, 20 / OUT_MPS, 4, 'a rate to 3 %');
  // A rate that grows with range: the way from 20 to 40 m takes a logarithm; nothing follows that asks for rest.
  const leftS = Math.log(plannedOut(40) / plannedOut(20)) / (0.1 / 40);
  expectWithin(at20?.toGoByPlanS?.value, leftS, 1, 'the range to some cm');
});
