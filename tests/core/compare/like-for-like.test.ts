import { describe, expect, test } from 'vitest';
import { likeForLike } from '@/lib/core/compare/like-for-like';
import { aboutRun, simulationsAbout } from '@/lib/core/session/runs-about';

const about = simulationsAbout({
  files: 'runs/*.csv',
  like: 'telemetry.csv',
  version: '4.1',
  mass_kg: 7000,
  navigation_model: 'camera',
  configuration: 'six jets',
  flown: { mass_kg: 7000, navigation_model: 'camera', configuration: 'six jets' },
  runs: [
    { files: 'runs/again-*.csv', basis: 'reconstruction', initial_state: 'flown' },
    { files: 'runs/again-2.csv', mass_kg: 7100 },
  ],
});
const held = (name: string, runStepS = 0.1) =>
  likeForLike({ flown: about.flown, run: aboutRun(about, name), flownStepS: 0.1, runStepS });

describe('like for like', () => {
  test('a reconstruction that agrees in everything is', () => {
    expect(held('runs/again-1.csv')).toEqual({ differs: [], unstated: [] });
  });

  test('a prediction flies inputs and a first state of its own', () => {
    expect(held('runs/a.csv').differs).toEqual([
      'inputs (the run’s own, not the recorded ones)',
      'first state (its own)',
    ]);
  });

  test('another step and another mass are named with both values', () => {
    expect(held('runs/again-1.csv', 1).differs).toEqual([
      'step (a row each 0.1 s flown, 1 s simulated)',
    ]);
    expect(held('runs/again-2.csv').differs).toEqual(['mass (7000 kg flown, 7100 kg simulated)']);
  });

  test('what nobody stated is no agreement', () => {
    const run = aboutRun(undefined, 'runs/a.csv');
    const flown = { massKg: null, navigationModel: null, configuration: null };
    const { unstated } = likeForLike({ flown, run, flownStepS: 1, runStepS: 1 });
    expect(unstated).toEqual(['mass', 'navigation model', 'configuration']);
  });
});

test('what is said of a part stands over what is said of the whole', () => {
  expect(aboutRun(about, 'runs/again-2.csv')).toEqual({
    ...about.all,
    basis: 'reconstruction',
    initialState: 'flown',
    inputs: 'recorded',
    massKg: 7100,
  });
});
