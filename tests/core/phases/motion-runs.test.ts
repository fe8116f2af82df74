import { expect, test } from 'vitest';
import { mergeShortRuns, type RunMotion } from '@/lib/core/phases/motion-runs';
import { seededRandom } from '../../support/seeded-random';

type Run = { motion: RunMotion; startS: number; endS: number };

function runsOf(...parts: readonly (readonly [RunMotion, number])[]): Run[] {
  let atS = 0;
  return parts.map(([motion, forS]) => {
    const run = { motion, startS: atS, endS: atS + forS };
    atS += forS;
    return run;
  });
}

/** The contract's order taken literally: again and again the earliest short run. */
function literally(runs: readonly Run[], dwellS: number): Run[] {
  const list = runs.map((run) => ({ ...run }));
  for (;;) {
    const at = list.findIndex((run) => run.endS - run.startS < dwellS);
    const run = list[at];
    if (run === undefined || list.length === 1) return list;
    const before = list[at - 1];
    const after = list[at + 1];
    if (before !== undefined && after !== undefined && before.motion === after.motion) {
      before.endS = after.endS;
      list.splice(at, 2);
    } else if (before !== undefined) {
      before.endS = run.endS;
      list.splice(at, 1);
    } else if (after !== undefined) {
      after.startS = run.startS;
      list.splice(at, 1);
    }
  }
}

test('a short run between two alike makes all three one', () => {
  const merged = mergeShortRuns(runsOf(['hold', 60], ['closing', 4], ['hold', 60]), 10);
  expect(merged).toEqual([{ motion: 'hold', startS: 0, endS: 124 }]);
});

test('a short run between unlike ones joins the earlier', () => {
  const merged = mergeShortRuns(runsOf(['hold', 60], ['opening', 4], ['closing', 60]), 10);
  expect(merged).toEqual([
    { motion: 'hold', startS: 0, endS: 64 },
    { motion: 'closing', startS: 64, endS: 124 },
  ]);
});

test('a short first run joins the next', () => {
  const merged = mergeShortRuns(runsOf(['opening', 2], ['hold', 60]), 10);
  expect(merged).toEqual([{ motion: 'hold', startS: 0, endS: 62 }]);
});

test('one pass gives what the literal order gives, on 500 random sequences', () => {
  const random = seededRandom(17);
  const kinds: readonly RunMotion[] = ['hold', 'closing', 'opening', 'crossing'];
  for (let trial = 0; trial < 500; trial++) {
    let last = -1;
    const parts = Array.from({ length: 1 + Math.floor(random() * 12) }, () => {
      let kind = Math.floor(random() * kinds.length);
      if (kind === last) kind = (kind + 1) % kinds.length;
      last = kind;
      return [kinds[kind] ?? 'hold', Math.ceil(20 * random())] as const;
    });
    const runs = runsOf(...parts);
    expect(mergeShortRuns(runs, 10)).toEqual(literally(runs, 10));
  }
});
