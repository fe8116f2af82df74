import { expect, test } from 'vitest';
import { handlingReport } from '@/lib/core/reconstruction/handling-results';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { HandlingRating, HandlingTask } from '@/lib/core/session/handling-words';
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

/** A hold at 100 m whose y swings by 0.4 m every 60 s; the stick moves once a second from 100 s on. */
const flown = flownTelemetry({
  axial: () => ({ xM: 100, vMps: 0 }),
  durationS: 300,
  positionNoise: 0,
  lateralM: [0.4, 60],
});
const stick = flown.tS.map((t) => (t < 100 ? 0 : Math.sign(Math.sin(Math.PI * t))));
const source = {
  ...flown,
  channels: [...flown.channels, channel('hc_y', 'hand_controller.y', '1', stick)],
};

const TASK: HandlingTask = {
  name: 'keep y',
  pilot: 'P',
  fromS: 120,
  toS: 240,
  quantity: 'y',
  target: 0,
  desired: 0.2,
  adequate: 0.5,
  by: null,
  reason: null,
};
const RATING: HandlingRating = {
  task: 'keep y',
  scale: 'cooper-harper',
  answers: { controllable: 'yes', adequate: 'yes', satisfactory: 'no' },
  rating: 5,
  rater: 'P',
  remark: null,
  by: null,
  reason: null,
};

function handling(tasks: readonly HandlingTask[], ratings: readonly HandlingRating[]) {
  const input = {
    ...sessionOf([source], FLOWN_PLAN),
    handlingTasks: tasks,
    handlingRatings: ratings,
  };
  return reconstruct(input, TEST_ENGINE).reconstruction.handling;
}

test('a sine is inside half of its size for a third of the time, and keeps the adequate bounds', () => {
  const [task] = handling([TASK], [RATING]).tasks;
  // (2 / pi) asin(1/2) = 1/3 over whole periods; the noise of 1 cm moves the crossings.
  expectWithin(task?.insideDesired?.value ?? Number.NaN, 1 / 3, 0.01, 'noise at the crossings');
  expect(task?.insideAdequate?.value).toBe(1);
  expect(task?.overshoots?.value).toBe(4);
  expectWithin(task?.rms?.value ?? Number.NaN, 0.4 / Math.SQRT2, 0.005, 'noise of the estimate');
  expect(task).toMatchObject({ met: 'adequate only', pilotInLoop: 'moved', unit: 'm' });
});

test('what a source states of its accuracy is in each distance from the target', () => {
  const declared = { ...source.declared, accuracy: { position: 0.05 } };
  const input = { ...sessionOf([{ ...source, declared }], FLOWN_PLAN), handlingTasks: [TASK] };
  const [task] = reconstruct(input, TEST_ENGINE).reconstruction.handling.tasks;
  for (const figure of [task?.bias, task?.rms, task?.peak])
    expect(figure?.uncertainty?.systematic).toBe(0.05);
  expect(task?.insideDesired?.uncertainty?.systematic ?? null).toBeNull();
});

test('a rating that says what was measured stands; one that says more is named', () => {
  const four = { ...RATING, rating: 4, rater: 'Q' };
  const [task] = handling([TASK], [RATING, four]).tasks;
  expect(task?.ratings.map(({ claim, fault, against }) => [claim, fault, against])).toEqual([
    ['adequate only', null, null],
    [
      'desired',
      null,
      'the rating says that the desired bounds were kept; measured, only the adequate bounds were kept',
    ],
  ]);
});

test('the stick that turns about each second has its duty and its cut-off', () => {
  const [task] = handling([TASK], []).tasks;
  const [y] = task?.activity ?? [];
  // A square wave of 0.5 Hz: most of its power lies in its first line.
  expectWithin(y?.cutOffHz.value ?? Number.NaN, 0.5, 0.05, 'a step of the spectrum');
  expect(y?.axis).toBe('y');
  expect(y?.firings).toBeNull();
});

test('a stretch in which nobody moved the stick cannot be rated', () => {
  const automatic = { ...TASK, name: 'before', fromS: 10, toS: 90 };
  const [task] = handling([automatic], [{ ...RATING, task: 'before' }]).tasks;
  expect(task?.pilotInLoop).toBe('at rest');
  expect(task?.ratings[0]?.fault).toBe('no hand controller was moved in this task');
});

test('what cannot be measured or does not exist is said', () => {
  const odd = { ...TASK, name: 'odd', quantity: 'attitude_error.roll' };
  const late = { ...TASK, name: 'late', fromS: 1e4, toS: 2e4 };
  const report = handling(
    [odd, late],
    [
      { ...RATING, task: 'nowhere' },
      { ...RATING, task: 'odd', rating: 3 },
    ],
  );
  expect(report.tasks.map(({ fault }) => fault)).toEqual([
    'no source shows attitude_error.roll',
    'y has no value in that stretch',
  ]);
  expect(report.astray.map(({ fault }) => fault)).toEqual(['nobody named a task "nowhere"']);
  expect(report.tasks[0]?.ratings[0]?.fault).toBe('the answers allow 4, 5, 6, not 3');
});

test('without a hand controller channel that is said, and ratings stand', () => {
  const report = handlingReport([TASK], [RATING], { session: null, sources: [], simulated: null });
  expect(report.tasks[0]).toMatchObject({ pilotInLoop: 'not recorded', met: null });
  expect(report.tasks[0]?.ratings[0]?.fault).toBeNull();
});

test('a task stands beside the simulator over the same part of its step, where runs cover it', () => {
  const approach = (lateralM: number, holdS: number, file: string) => ({
    ...flownTelemetry({
      axial: axialMotion(30, moveParts(0.08, 32, holdS)),
      durationS: 600,
      stepS: 1,
      positionNoise: 0,
      lateralM: [lateralM, 20],
    }),
    file,
  });
  const runs = [40, 70, 100].map((holdS, index) => approach(0.8, holdS, `run-${index}.csv`));
  const input = {
    ...sessionOf([approach(0.2, 40, 'telemetry.csv')], {
      ...FLOWN_PLAN,
      steps: FLOWN_PLAN.steps.slice(2),
    }),
    simulations: { files: 'run-*.csv', like: 'telemetry.csv', sha256: 'b'.repeat(64), runs },
    // Whole swings of 20 s inside the final step; then one that begins before any step does.
    handlingTasks: [
      { ...TASK, fromS: 100, toS: 300, desired: 0.4, adequate: 1 },
      { ...TASK, name: 'beyond', fromS: 100, toS: 9000 },
    ],
  };
  const { reconstruction } = reconstruct(input, TEST_ENGINE);
  const [task, beyond] = reconstruction.handling.tasks;
  expect(task?.insideDesired?.value).toBe(1);
  expect(task?.simulator?.runs).toBe(3);
  // (2 / pi) asin(1/2) = 1/3 of each run's swings, wherever in its own time the step lies.
  const share = task?.simulator?.insideDesired.value ?? Number.NaN;
  expectWithin(share, 1 / 3, 0.02, 'rows 1 s apart on a swing of 20 s, noise at the crossings');
  expectWithin(task?.simulator?.rms.value ?? Number.NaN, 0.8 / Math.SQRT2, 0.02, 'the same');
  expect(task?.simulator?.insideAdequate.value).toBe(1);
  expect(beyond?.simulator).toBeNull();
});
