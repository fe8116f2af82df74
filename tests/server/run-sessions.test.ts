import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { expect, test } from 'vitest';
import { aboutRun } from '@/lib/core/session/runs-about';
import { addRunSession } from '@/lib/server/commands/add-run-session';
import { undoCorrection } from '@/lib/server/commands/undo-correction';
import { samplesRoot, sessionsRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { fromStored, type StoredInput } from '@/lib/server/jobs/stored-input';
import { loadRunSessions } from '@/lib/server/queries/load-corrections';
import { toJson } from '@/lib/server/rows';
import { runCommand } from '@/lib/server/run-command';
import { withSessionsAsRuns } from '@/lib/server/run-sessions';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { channelSpec, telemetrySpec, ZERO } from '../support/telemetry-spec';

freshDataDir();

const spec = telemetrySpec({ channels: [channelSpec('x', { as: 'position.x' })] });
const nothing: StoredInput = {
  title: 'Small',
  kind: 'flight',
  zero: ZERO,
  zeroUtc: '2025-03-04T10:00:00Z',
  plan: null,
  planSha256: null,
  rules: [],
  rulesSha256: null,
  sources: [],
  notComputed: [],
};

/** A session with three rows of telemetry, as an import leaves it. */
async function flownSession(id: string): Promise<string> {
  await addSession(id);
  const folder = path.join(sessionsRoot(), id);
  await mkdir(folder, { recursive: true });
  const file = path.join(folder, 'telemetry.csv');
  await writeFile(file, 't,x\n0,3\n1,2\n2,1\n');
  const imported = await importTelemetry({
    parts: [{ name: 'telemetry.csv', file }],
    spec,
    zero: ZERO,
    samplesRoot: samplesRoot(),
    original: 'leave',
  });
  const source = { type: 'telemetry', file: 'telemetry.csv', sha256: 'a', spec } as const;
  const sources = [{ ...source, folder: imported.folder ?? '' }];
  await writeFile(path.join(folder, 'input.json'), toJson({ ...nothing, sources }));
  return id;
}

test('another session is held against as a run until that is undone', async () => {
  const sessionId = await addSession('flight');
  const run = await flownSession('earlier');
  const asked = { sessionId, run, basis: 'prediction' };
  expect(await runCommand(addRunSession, { ...asked, run: sessionId })).toMatchObject({
    ok: false,
    code: 'own-session',
  });
  const rebuilt = await runCommand(addRunSession, { ...asked, basis: 'reconstruction' });
  expect(rebuilt).toMatchObject({ ok: false, code: 'flight-not-reconstruction' });
  expect((await runCommand(addRunSession, asked)).ok).toBe(true);
  const stored = await withSessionsAsRuns(nothing, sessionId);
  const { simulations } = await fromStored(stored, samplesRoot());
  expect(simulations).toMatchObject({ files: '1 session' });
  expect(simulations?.runs.map(({ file, tS }) => [file, [...tS]])).toEqual([
    ['session Session earlier', [0, 1, 2]],
  ]);
  const [kept] = await loadRunSessions(sessionId);
  await runCommand(undoCorrection, { id: kept?.id, version: kept?.version });
  expect(await withSessionsAsRuns(nothing, sessionId)).toBe(nothing);
});

test('sessions of one title are two runs, and no title is a pattern of another', async () => {
  const sessionId = await addSession('flight');
  for (const [id, basis] of [
    ['a', 'prediction'],
    ['b', 'reconstruction'],
    ['c', 'prediction'],
  ]) {
    const run = await flownSession(id ?? '');
    await db().session.update({
      where: { id: run },
      data: { title: id === 'c' ? 'A*' : 'Arrival', kind: id === 'b' ? 'simulation' : 'flight' },
    });
    expect((await runCommand(addRunSession, { sessionId, run, basis })).ok).toBe(true);
  }
  const stored = await withSessionsAsRuns(nothing, sessionId);
  const { simulations } = await fromStored(stored, samplesRoot());
  const names = simulations?.runs.map(({ file }) => file) ?? [];
  expect(names).toEqual(['session Arrival', 'session Arrival (2)', 'session A_']);
  expect(names.map((name) => aboutRun(simulations?.about, name).basis)).toEqual([
    'prediction',
    'reconstruction',
    'prediction',
  ]);
});
