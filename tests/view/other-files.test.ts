import { expect, test } from 'vitest';
import { otherFiles } from '@/lib/view/sources-view';

test('two hundred runs are one line; the description, plan and rules stand by themselves', () => {
  const runs = Array.from(
    { length: 200 },
    (_, i) => `sim/run-${String(i + 1).padStart(3, '0')}.csv`,
  );
  const all = ['plan.yaml', 'session.yaml', ...runs, 'telemetry.csv', 'extra/note.txt'];
  expect(otherFiles(all, [{ file: 'telemetry.csv' }])).toEqual({
    names: ['plan.yaml', 'session.yaml', 'extra/note.txt'],
    folders: [{ folder: 'sim/', text: '200 files, run-001.csv to run-200.csv' }],
  });
});

test('many files beside each other in the folder itself are still listed', () => {
  const all = Array.from({ length: 30 }, (_, i) => `${i}.txt`);
  expect(otherFiles(all, [])).toEqual({ names: all, folders: [] });
});
