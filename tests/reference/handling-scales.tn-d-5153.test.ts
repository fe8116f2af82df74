/**
 * Sources: G. E. Cooper, R. P. Harper, NASA TN D-5153 (1969), structure and bands of the decision tree;
 * A. H. Roscoe, G. A. Ellis, RAE TR 90019 (1990), from memory; MIL-STD-1797A, six-point tendency to
 * oscillate; S. G. Hart, L. E. Staveland, NASA-TLX (1988), weights 3 0 5 1 3 3 and ratings 30 15 60 40
 * 30 40: 640 / 15 = 42.667 and 215 / 6 = 35.833 (recomputed by hand).
 */
import { describe, expect, test } from 'vitest';
import { type Answer, ratingFault, walkTree } from '@/lib/core/handling/decision-tree';
import { claimOfRating, RATING_SCALES, ratingScale } from '@/lib/core/handling/rating-scales';
import { rawTaskLoad, type TaskLoad, taskLoadFaults } from '@/lib/core/handling/task-load';
import { expectWithin } from '../support/expect-within';

const GIVEN: readonly (Answer | undefined)[] = ['yes', 'no', undefined];

function scaleOf(id: string) {
  const scale = ratingScale(id);
  if (scale === null) throw new Error(`no scale ${id}`);
  return scale;
}

describe.each([
  ['cooper-harper', ['controllable', 'adequate', 'satisfactory']],
  ['bedford', ['possible', 'tolerable', 'satisfactory']],
] as const)('%s', (id, [one, two, three]) => {
  const scale = scaleOf(id);

  test('of 27 combinations only the four whole paths lead to ratings, in their bands', () => {
    const bands = new Set<string>();
    for (const a of GIVEN)
      for (const b of GIVEN)
        for (const c of GIVEN) {
          const answers = { [one]: a, [two]: b, [three]: c };
          const { reached } = walkTree(scale, answers);
          const allowed = Array.from({ length: 10 }, (_, i) => i + 1).filter(
            (rating) => ratingFault(scale, answers, rating) === null,
          );
          if (allowed.length === 0) continue;
          expect(allowed).toEqual(reached);
          bands.add(`${a} ${b} ${c}: ${allowed.join(' ')}`);
        }
    expect([...bands].sort()).toEqual([
      'no undefined undefined: 10',
      'yes no undefined: 7 8 9',
      'yes yes no: 4 5 6',
      'yes yes yes: 1 2 3',
    ]);
  });

  test('a question behind an earlier "no" is never asked', () => {
    expect(walkTree(scale, { [one]: 'no', [two]: 'yes' }).asked).toEqual([one]);
    expect(ratingFault(scale, { [one]: 'no', [two]: 'yes' }, 10)).toContain('never reached');
    expect(ratingFault(scale, { [one]: 'yes' }, 5)).toContain('is not answered');
  });
});

test('the six points of the tendency to oscillate each have one path', () => {
  const scale = scaleOf('oscillation');
  const paths: Readonly<Record<string, Answer>>[] = [
    { divergesOnEntry: 'no', oscillates: 'no', undesirable: 'no' },
    { divergesOnEntry: 'no', oscillates: 'no', undesirable: 'yes', compromised: 'no' },
    { divergesOnEntry: 'no', oscillates: 'no', undesirable: 'yes', compromised: 'yes' },
    { divergesOnEntry: 'no', oscillates: 'yes', divergent: 'no' },
    { divergesOnEntry: 'no', oscillates: 'yes', divergent: 'yes' },
    { divergesOnEntry: 'yes' },
  ];
  expect(paths.map((answers) => walkTree(scale, answers).reached)).toEqual([
    [1],
    [2],
    [3],
    [4],
    [5],
    [6],
  ]);
});

test('every rating of every scale has its words, and every branch leads on', () => {
  for (const scale of RATING_SCALES) {
    const keys = scale.questions.map(({ key }) => key);
    const branches = scale.questions.flatMap(({ yes, no }) => [yes, no]);
    const ratings = branches.flatMap((branch) => ('ratings' in branch ? branch.ratings : []));
    expect([...ratings].sort((a, b) => a - b).map(String)).toEqual(Object.keys(scale.anchors));
    for (const branch of branches) if ('ask' in branch) expect(keys).toContain(branch.ask);
  }
});

test('ratings 1 to 4 say desired performance, 5 and 6 adequate alone, 7 to 9 not even that', () => {
  const claims = Array.from({ length: 10 }, (_, i) => claimOfRating(i + 1));
  expect(claims.lastIndexOf('desired')).toBe(3);
  expect(claims.lastIndexOf('adequate only')).toBe(5);
  expect(claims.lastIndexOf('adequate not met')).toBe(8);
  expect(claims[9]).toBe('control lost');
});

describe('task load', () => {
  const load = (
    mental: number,
    physical: number,
    temporal: number,
    performance: number,
    effort: number,
    frustration: number,
  ): TaskLoad => ({ mental, physical, temporal, performance, effort, frustration });
  const ratings = load(30, 15, 60, 40, 30, 40);

  test('the worked set is 35.833 raw', () => {
    expectWithin(rawTaskLoad(ratings), 215 / 6, 1e-12, 'exact arithmetic');
    expect(taskLoadFaults(ratings)).toEqual([]);
  });

  test('ratings off the form are refused', () => {
    expect(taskLoadFaults(load(33, 105, 0, 100, 5, -5))).toHaveLength(3);
  });
});
