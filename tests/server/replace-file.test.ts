import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { correctStretch } from '@/lib/server/commands/correct-stretch';
import { draftDebrief } from '@/lib/server/commands/draft-debrief';
import { publishDebrief } from '@/lib/server/commands/publish-debrief';
import { removeSession } from '@/lib/server/commands/remove-session';
import { replaceFile } from '@/lib/server/commands/replace-file';
import { startImport } from '@/lib/server/commands/start-import';
import { undoCorrection } from '@/lib/server/commands/undo-correction';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { originalFolder } from '@/lib/server/jobs/session-files';
import { sweepStore } from '@/lib/server/jobs/sweep';
import { loadRecord } from '@/lib/server/publish/load-record';
import { loadChanges } from '@/lib/server/queries/load-changes';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { loadSources } from '@/lib/server/queries/load-sources';
import { loadTouchedSince } from '@/lib/server/queries/load-touched';
import { runCommand } from '@/lib/server/run-command';
import { freshDataDir } from '../support/data-dir';
import { folderOnDisk, smallSession } from '../support/small-session';
import { spokenLog } from '../support/spoken-log';
import { endedJob, sendFiles, sendFolder } from '../support/upload';

freshDataDir();

const LINES = 602;
const flight = { folder: '' };
beforeAll(() => {
  flight.folder = folderOnDisk(smallSession(spokenLog()));
});
afterAll(() => rmSync(path.dirname(flight.folder), { recursive: true, force: true }));
beforeEach(() => startQueue());
afterEach(() => stopQueue());

function telemetryFile(): string {
  return path.join(flight.folder, 'telemetry.csv');
}

function telemetryText(lines: number): string {
  return `${readFileSync(telemetryFile(), 'utf8').split('\n').slice(0, lines).join('\n')}\n`;
}

async function importedAndPublished(): Promise<string> {
  const job = await endedJob(runCommand(startImport, { uploadId: sendFolder(flight.folder) }));
  const sessionId = job.sessionId ?? '';
  const drafted = await runCommand(draftDebrief, { sessionId });
  if (!drafted.ok) throw new Error(drafted.message);
  const title = 'Before the replacement';
  const published = await runCommand(publishDebrief, { sessionId, version: 1, title });
  if (!published.ok) throw new Error(published.message);
  return sessionId;
}

function replacing(sessionId: string, version: number, text: string) {
  const uploadId = sendFiles((files) => writeFileSync(path.join(files, 'better.csv'), text));
  return runCommand(replaceFile, { sessionId, version, file: 'telemetry.csv', uploadId });
}

test('a log that was awaited is added later and is then received late', async () => {
  const uploadId = sendFiles((files) => {
    cpSync(flight.folder, files, { recursive: true });
    rmSync(path.join(files, 'loop.vtt'));
    const file = path.join(files, 'session.yaml');
    const text = readFileSync(file, 'utf8');
    writeFileSync(file, text.replace('file: loop.vtt,', 'file: loop.vtt, absent: awaited,'));
  });
  const job = await endedJob(runCommand(startImport, { uploadId }));
  const sessionId = job.sessionId ?? '';
  const notes = (await loadReconstruction(sessionId))?.notes ?? [];
  expect(notes).toContainEqual(
    expect.objectContaining({ code: 'source-awaited', file: 'loop.vtt' }),
  );
  const loop = readFileSync(path.join(flight.folder, 'loop.vtt'), 'utf8');
  const sent = sendFiles((files) => writeFileSync(path.join(files, 'found-at-last.vtt'), loop));
  const added = { sessionId, version: 1, file: 'loop.vtt', uploadId: sent };
  expect(await endedJob(runCommand(replaceFile, added))).toMatchObject({ state: 'done' });
  expect((await loadSources(sessionId)).map(({ file }) => file)).toContain('loop.vtt');
  const before = await loadReconstruction(sessionId);
  expect(before?.callouts.length).toBeGreaterThan(0);

  const word = { source: 'telemetry.csv', channel: 'x', fromS: 0, toS: 20, use: 'leave-out' };
  const said = await runCommand(correctStretch, { sessionId, ...word, reason: 'warming up' });
  if (!said.ok) throw new Error(said.message);
  await endedJob(Promise.resolve(said));
  const out = await loadReconstruction(sessionId);
  expect(out?.dataQuality.map(({ kind }) => kind)).toContain('left_out');
  await endedJob(runCommand(undoCorrection, { id: said.data.id, version: 1 }));
  expect((await loadReconstruction(sessionId))?.inputsSha256).toBe(before?.inputsSha256);
  const wrong = await runCommand(correctStretch, { sessionId, ...word, toS: -1, reason: 'x' });
  expect(wrong).toMatchObject({ ok: false, code: 'stretch-backwards' });
  const beyond = { ...word, fromS: 9_000, toS: 9_010, reason: 'x' };
  expect(await runCommand(correctStretch, { sessionId, ...beyond })).toMatchObject({
    code: 'stretch-outside',
    message: expect.stringMatching(/^telemetry\.csv covers 00:00:0.* to .* of session time/),
  });
});

test('a better file changes the session and lists what it changed, the published stays', async () => {
  const sessionId = await importedAndPublished();
  const frozen = (await loadRecord(1, 1))?.record;
  expect(await loadTouchedSince(1, 1)).toBeNull();
  const job = await endedJob(replacing(sessionId, 1, telemetryText(LINES - 100)));
  expect(job).toMatchObject({ state: 'done', sessionId });

  const telemetry = (await loadSources(sessionId)).find(({ file }) => file === 'telemetry.csv');
  expect(telemetry?.number).toBe(2);
  const changes = await loadChanges(sessionId);
  expect(changes?.cause).toBe('inputs');
  expect(changes?.files.map(({ file, number }) => [file, number])).toEqual([['telemetry.csv', 2]]);
  expect(changes?.changes.figures.map(({ key }) => key)).toContain('phases[1].end_s');
  const [touched] = changes?.publications ?? [];
  expect(touched?.numbers?.length).toBeGreaterThan(0);
  for (const { sentence, published } of touched?.numbers ?? [])
    expect(sentence).toContain(published);
  expect((await loadRecord(1, 1))?.record).toEqual(frozen);
  expect((await loadTouchedSince(1, 1))?.numbers).toEqual(touched?.numbers);

  await sweepStore();
  const kept = (filesNumber: number): string =>
    readFileSync(
      path.join(originalFolder({ id: sessionId, filesNumber }), 'telemetry.csv'),
      'utf8',
    );
  expect([kept(1), kept(2)]).toEqual([telemetryText(LINES), telemetryText(LINES - 100)]);

  const outside = { sessionId, version: 2, file: '../outside.csv', uploadId: sendFiles(() => {}) };
  expect(await runCommand(replaceFile, outside)).toMatchObject({ ok: false, code: 'unsafe-name' });

  const back = await endedJob(replacing(sessionId, 2, telemetryText(LINES)));
  expect(back.state).toBe('done');

  const late = await replacing(sessionId, 1, telemetryText(LINES - 200));
  expect(late).toMatchObject({ ok: false, code: 'changed-meanwhile' });
  await endedJob(replacing(sessionId, 3, 'no table at all\n')).then((broken) => {
    expect(broken.state).toBe('failed');
    expect(broken.result?.issues[0]?.file).toBe('telemetry.csv');
  });
  expect(await loadSessionHeader(sessionId)).toMatchObject({ version: 3, filesNumber: 3 });

  await runCommand(removeSession, { sessionId, version: 3 });
  await expect
    .poll(() => readIfThere(path.dirname(originalFolder({ id: sessionId, filesNumber: 2 }))))
    .toBeNull();
});

function readIfThere(folder: string): string | null {
  try {
    return readFileSync(path.join(folder, 'input.json'), 'utf8');
  } catch {
    return null; // what is looked for: nothing is there
  }
}
