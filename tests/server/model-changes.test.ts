import { expect, test } from 'vitest';
import { createModelChange } from '@/lib/server/commands/create-model-change';
import { editModelChange } from '@/lib/server/commands/edit-model-change';
import { removeModelChange } from '@/lib/server/commands/remove-model-change';
import { undoModelChange } from '@/lib/server/commands/undo-model-change';
import { loadModelChanges } from '@/lib/server/queries/load-model-changes';
import { runCommand } from '@/lib/server/run-command';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

const figure = {
  key: 'comparison.scores[z_std_final_m].flight',
  label: 'Comparison, z std final: flight',
  figure: {
    value: 0.081,
    unit: 'm',
    uncertainty: null,
    method: 'Population standard deviation over the time of the final step.',
    evidence: {
      sources: [{ file: 'runs/*.csv', sha256: 'ab' }],
      channels: ['z'],
      fromS: null,
      toS: null,
      runs: '60 runs: run-1.csv to run-60.csv',
    },
  },
} as const;

const words = {
  parameter: 'Delay of the vertical jets',
  now: '0.2 s',
  proposed: '1.4 s',
  owner: 'SIMULATION',
  state: 'proposed',
  figures: [figure],
} as const;

async function standing(sessionId: string) {
  const [change] = await loadModelChanges(sessionId);
  if (change === undefined) throw new Error('no change');
  return change;
}

test('a change is kept with its evidence, edited with a version, and each change is undone', async () => {
  const sessionId = await addSession('s1');
  expect((await runCommand(createModelChange, { sessionId, ...words })).ok).toBe(true);
  const first = await standing(sessionId);
  expect(first).toMatchObject({ ...words, number: 1, version: 1, undoable: 0 });
  const { id } = first;
  const edited = { ...words, id, version: 1, proposed: '1.2 s', figures: [] };
  expect((await runCommand(editModelChange, edited)).ok).toBe(true);
  expect(await standing(sessionId)).toMatchObject({ proposed: '1.2 s', version: 2, undoable: 1 });
  expect((await runCommand(removeModelChange, { id, version: 2 })).ok).toBe(true);
  expect(await standing(sessionId)).toMatchObject({ removed: 'removed', undoable: 2 });
  await runCommand(undoModelChange, { id, version: 3 });
  expect(await standing(sessionId)).toMatchObject({ removed: 'standing', proposed: '1.2 s' });
  await runCommand(undoModelChange, { id, version: 4 });
  expect(await standing(sessionId)).toMatchObject({ ...words, version: 5, undoable: 0 });
  expect(await runCommand(undoModelChange, { id, version: 5 })).toMatchObject({
    ok: false,
    code: 'nothing-to-undo',
  });
});

test('the second of two at once is shown what the first one kept', async () => {
  const sessionId = await addSession('s2');
  await runCommand(createModelChange, { sessionId, ...words });
  const { id } = await standing(sessionId);
  await runCommand(editModelChange, { ...words, id, version: 1, owner: 'GUIDANCE' });
  expect(
    await runCommand(editModelChange, { ...words, id, version: 1, now: '0.1 s' }),
  ).toMatchObject({ ok: false, code: 'changed-meanwhile', newer: { owner: 'GUIDANCE' } });
});

test('a change without a parameter is refused beside its field', async () => {
  const sessionId = await addSession('s3');
  expect(
    await runCommand(createModelChange, { sessionId, ...words, parameter: ' ' }),
  ).toMatchObject({
    ok: false,
    fields: { parameter: 'A parameter is needed.' },
  });
});
