/** What people say of phases, on a real database: kept, computed in, taken along, undone, put back. */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { unzipSync } from 'fflate';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { GET as exportFolder } from '@/app/sessions/[sessionId]/folder.zip/route';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { correctPhase } from '@/lib/server/commands/correct-phase';
import { replaceFile } from '@/lib/server/commands/replace-file';
import { restoreCorrection } from '@/lib/server/commands/restore-correction';
import { startImport } from '@/lib/server/commands/start-import';
import { undoCorrection } from '@/lib/server/commands/undo-correction';
import { samplesRoot } from '@/lib/server/data-folders';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { loadPhaseEdits, loadWordsSince } from '@/lib/server/queries/load-corrections';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { runCommand } from '@/lib/server/run-command';
import { readSessionFolder } from '@/lib/server/session-folder';
import { freshDataDir } from '../support/data-dir';
import { TEST_ENGINE } from '../support/flown-session';
import { folderOnDisk, smallSession } from '../support/small-session';
import { endedJob, sendFiles, sendFolder } from '../support/upload';

const { dataDir } = freshDataDir();
beforeEach(() => startQueue());
afterEach(() => stopQueue());

async function imported(): Promise<string> {
  const folder = folderOnDisk(smallSession());
  const uploadId = sendFolder(folder);
  rmSync(path.dirname(folder), { recursive: true });
  return (await endedJob(runCommand(startImport, { uploadId }))).sessionId ?? '';
}

const reason = 'the jets are heard later';
const edge = { kind: 'move-edge', before: 'hold', after: 'closing', sdS: 1, reason };
const say = (sessionId: string, version: number, word: Readonly<Record<string, unknown>>) =>
  runCommand(correctPhase, { sessionId, version, word });

async function computed(sessionId: string) {
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) throw new Error('nothing was computed');
  return reconstruction;
}

/** The exported folder read and computed as any folder is. */
async function readAgain(sessionId: string) {
  const request = new Request('http://localhost/folder.zip');
  const answer = await exportFolder(request, { params: Promise.resolve({ sessionId }) });
  const files = unzipSync(new Uint8Array(await answer.arrayBuffer()));
  const folder = path.join(dataDir(), 'again');
  mkdirSync(folder);
  for (const [name, bytes] of Object.entries(files)) writeFileSync(path.join(folder, name), bytes);
  const { input } = await readSessionFolder(folder, { samplesRoot: samplesRoot() });
  if (input === null) throw new Error('not read');
  return reconstruct(input, TEST_ENGINE).reconstruction;
}

/** A better file in which the approach starts 20 s later: its first rows are those of the hold again. */
function laterStart(): string {
  const [header = '', ...rows] = (smallSession().get('telemetry.csv') ?? '').trim().split('\n');
  const later = rows.map((row) => {
    const [time, ...cells] = row.split(',');
    return [(Number(time) + 20).toFixed(1), ...cells].join(',');
  });
  return [header, ...rows.slice(0, 100), ...later, ''].join('\n');
}

async function refusals(sessionId: string) {
  const refused = async (word: Readonly<Record<string, unknown>>) => {
    const result = await say(sessionId, 0, { reason, ...word });
    return result.ok ? result : (result.fields ?? result.message);
  };
  const run = { kind: 'name-run', motion: 'hold', fromS: 0, toS: 40 };
  expect(await refused({ ...run, step: 'hold-7' })).toBe('The plan has no step “Hold 7”.');
  const split = { kind: 'split-run', motion: 'hold', sdS: null };
  expect(await refused({ ...split, atS: 4000 })).toMatch(/^01:06:40\.0 lies outside the runs/);
  const contact = { kind: 'contact', sdS: 1, basis: 'camera' };
  expect(await refused({ ...contact, atS: 4000 })).toMatch(/lies outside the telemetry/);
  expect(await refused({ ...contact, atS: 100, basis: ' ' })).toEqual({
    'word.basis': 'What it rests on is needed.',
  });
  expect(await refused({ ...split, atS: 10, reason: '' })).toEqual({
    'word.reason': 'A reason is needed.',
  });
  expect(await loadPhaseEdits(sessionId)).toEqual([]);
}

test('a moved edge is computed in, travels with the folder, is undone, put back, and outlives its edge', async () => {
  const sessionId = await imported();
  await refusals(sessionId);
  const plain = await computed(sessionId);
  const edgeS = plain.phases[1]?.startS.value ?? Number.NaN;
  const word = { ...edge, edgeS, toS: edgeS + 5 };
  expect(await say(sessionId, 0, { ...word, toS: edgeS - 100 })).toMatchObject({
    code: 'does-not-fit',
    message: expect.stringMatching(/lies past a neighbouring edge/),
  });
  expect((await endedJob(say(sessionId, 0, word))).state).toBe('done');
  const moved = await computed(sessionId);
  expect(moved.phases[1]?.startS.value).toBe(edgeS + 5);
  expect(moved.phases[1]?.startSet?.by).toBe('Local reviewer');

  // Somebody who still sees the edge where it was overwrites nothing.
  expect(await say(sessionId, 0, { ...word, toS: edgeS + 9 })).toMatchObject({
    code: 'changed-meanwhile',
    newer: { version: 1, by: 'Local reviewer' },
  });
  const again = await readAgain(sessionId);
  expect(again.phases).toEqual(moved.phases);
  expect(again.phaseEdits).toEqual(moved.phaseEdits);

  const [kept] = await loadPhaseEdits(sessionId);
  const at = (version: number) => ({ id: kept?.id, version });
  await stopQueue();
  expect((await runCommand(undoCorrection, at(1))).ok).toBe(true);
  expect((await loadWordsSince(sessionId)).standing.phaseEdits).toBeUndefined();
  expect(await runCommand(restoreCorrection, at(1))).toMatchObject({ code: 'changed-meanwhile' });
  expect((await runCommand(restoreCorrection, at(2))).ok).toBe(true);
  expect((await loadWordsSince(sessionId)).standing.phaseEdits).toHaveLength(1);
  expect(await runCommand(restoreCorrection, at(3))).toMatchObject({ code: 'counts-already' });
  startQueue();

  // A better file without that edge: the correction is listed with the reason, not lost.
  const uploadId = sendFiles((files) =>
    writeFileSync(path.join(files, 'better.csv'), laterStart()),
  );
  const replacement = { sessionId, version: 1, file: 'telemetry.csv', uploadId };
  expect((await endedJob(runCommand(replaceFile, replacement))).state).toBe('done');
  const { phases, phaseEdits } = await computed(sessionId);
  expect(phases[1]?.startS.value).toBeGreaterThan(edgeS + 15);
  expect(phases[1]?.startSet).toBeUndefined();
  expect(phaseEdits?.results).toMatchObject([
    {
      edit: { toS: edgeS + 5, by: 'Local reviewer', reason },
      outcome: {
        state: 'not applied',
        fault: expect.stringMatching(/no edge from hold to closing/),
      },
    },
  ]);
  expect(await loadPhaseEdits(sessionId)).toHaveLength(1);
});
