/** Arrangements of the timeline: kept for the team, renamed, removed and taken back. */
import { expect, test } from 'vitest';
import { editArrangement } from '@/lib/server/commands/edit-arrangement';
import { keepArrangement } from '@/lib/server/commands/keep-arrangement';
import { loadArrangements } from '@/lib/server/queries/load-arrangements';
import { runCommand } from '@/lib/server/run-command';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

const QUERY = 'strips=range,closing_rate~192&axis=utc';

async function kept(name: string) {
  const result = await runCommand(keepArrangement, { name, query: QUERY });
  if (!result.ok) throw new Error(result.message);
  return result.data;
}

test('an arrangement is kept, renamed, removed and taken back', async () => {
  const first = await kept('Final approach');
  expect(first).toMatchObject({ version: 1, name: 'Final approach', query: QUERY });
  const renamed = await runCommand(editArrangement, { ...first, name: 'Last 40 m', state: 'kept' });
  expect(renamed).toMatchObject({ ok: true, data: { version: 2, name: 'Last 40 m' } });
  const gone = await runCommand(editArrangement, {
    ...first,
    version: 2,
    name: 'Last 40 m',
    state: 'removed',
  });
  expect(gone).toMatchObject({ ok: true, data: { version: 3 } });
  expect(await loadArrangements()).toEqual([]);
  const back = await runCommand(editArrangement, {
    ...first,
    version: 3,
    name: 'Last 40 m',
    state: 'kept',
  });
  expect(back).toMatchObject({ ok: true, data: { version: 4, query: QUERY } });
});

test('a name is given once, and a change of an older version is refused', async () => {
  const first = await kept('Attitude');
  const again = await runCommand(keepArrangement, { name: 'attitude', query: QUERY });
  expect(again).toMatchObject({ ok: false, code: 'name-taken' });
  await runCommand(editArrangement, { ...first, name: 'Attitudes', state: 'kept' });
  const stale = await runCommand(editArrangement, { ...first, name: 'Other', state: 'kept' });
  expect(stale.ok).toBe(false);
});

test('an arrangement holds strips and axis, no stretch of one session', async () => {
  const result = await runCommand(keepArrangement, { name: 'x', query: 'strips=a&from=1' });
  expect(result).toMatchObject({ ok: false });
});
