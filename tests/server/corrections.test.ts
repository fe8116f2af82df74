/** What people say of a log's clock, on a real database: kept, computed in, undone, taken along. */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { unzipSync } from 'fflate';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { GET as exportFolder } from '@/app/sessions/[sessionId]/folder.zip/route';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { readPeopleFile } from '@/lib/core/session/read-people-file';
import { correctClock } from '@/lib/server/commands/correct-clock';
import { replaceFile } from '@/lib/server/commands/replace-file';
import { restoreCorrection } from '@/lib/server/commands/restore-correction';
import { startImport } from '@/lib/server/commands/start-import';
import { undoCorrection } from '@/lib/server/commands/undo-correction';
import { undoFolderCorrection } from '@/lib/server/commands/undo-folder-correction';
import { samplesRoot } from '@/lib/server/data-folders';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { loadCorrections } from '@/lib/server/queries/load-corrections';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { type CommandResult, runCommand } from '@/lib/server/run-command';
import { readSessionFolder } from '@/lib/server/session-folder';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { TEST_ENGINE } from '../support/flown-session';
import { folderOnDisk, smallSession } from '../support/small-session';
import {
  LINE_OF_15,
  LINE_OF_20,
  LINE_OF_25,
  LINE_OF_DOUBT,
  spokenLog,
} from '../support/spoken-log';
import { endedJob, sendFiles, sendFolder } from '../support/upload';

const { dataDir } = freshDataDir();
beforeEach(() => startQueue());
afterEach(() => stopQueue());

const OWN = `clock_corrections:
  - { source: loop.vtt, line: ${LINE_OF_20}, callout: reject, by: A. Reviewer }
`;
const place = { source: 'loop.vtt', nth: 1, reason: 'heard on the tape' };

/** The small session with a log and a people.yaml of its own; returns its id. */
async function imported(): Promise<string> {
  const folder = folderOnDisk(smallSession({ ...spokenLog(), 'people.yaml': OWN }));
  const uploadId = sendFolder(folder);
  rmSync(path.dirname(folder), { recursive: true });
  const job = await endedJob(runCommand(startImport, { uploadId }));
  return job.sessionId ?? '';
}

function saying(sessionId: string, word: Readonly<Record<string, unknown>>) {
  return runCommand(correctClock, { sessionId, word: { ...place, ...word } });
}

/** What a log's clock changes, and the log's clock itself. */
function seenIn(reconstruction: Reconstruction | null) {
  const log = reconstruction?.sources.find(({ file }) => file === 'loop.vtt');
  if (log === undefined || reconstruction === null) throw new Error('no log');
  return { clock: log.clock, coverage: log.coverage, callouts: reconstruction.callouts };
}

const seen = async (sessionId: string) => seenIn(await loadReconstruction(sessionId));

async function exported(sessionId: string): Promise<Readonly<Record<string, Uint8Array>>> {
  const request = new Request('http://localhost/folder.zip');
  const answer = await exportFolder(request, { params: Promise.resolve({ sessionId }) });
  return unzipSync(new Uint8Array(await answer.arrayBuffer()));
}

const peopleIn = (files: Readonly<Record<string, Uint8Array>>): string =>
  Buffer.from(files['people.yaml'] ?? []).toString();

/** The exported files read and computed as any folder is. */
async function readAgain(files: Readonly<Record<string, Uint8Array>>) {
  const folder = path.join(dataDir(), 'again');
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder);
  for (const [name, bytes] of Object.entries(files)) writeFileSync(path.join(folder, name), bytes);
  const { input } = await readSessionFolder(folder, { samplesRoot: samplesRoot() });
  if (input === null) throw new Error('not read');
  return seenIn(reconstruct(input, TEST_ENGINE).reconstruction);
}

function replacing(sessionId: string) {
  const text = `${smallSession().get('events.csv')}60,note,Late.\n`;
  const uploadId = sendFiles((files) => writeFileSync(path.join(files, 'better.csv'), text));
  return runCommand(replaceFile, { sessionId, version: 1, file: 'events.csv', uploadId });
}

/** Corrections that were made here, not those that came with the folder. */
const madeHere = async (sessionId: string) =>
  (await loadCorrections(sessionId)).filter(({ createdAtIso }) => createdAtIso !== null);

type Asked = CommandResult<Readonly<{ jobId: string }>>;

/** Commands while nothing is computed, so that one job has all of them to compute in. */
async function atOnce(commands: readonly (() => Promise<Asked>)[]): Promise<void> {
  await stopQueue();
  const asked: Asked[] = [];
  for (const command of commands) asked.push(await command());
  startQueue();
  const jobs = new Set(asked.map((each) => (each.ok ? each.data.jobId : each.message)));
  expect(jobs.size).toBe(1);
  const [first] = asked;
  if (first === undefined) throw new Error('nothing was asked');
  expect((await endedJob(Promise.resolve(first))).state).toBe('done');
}

test('corrections move the clock behind those of the folder, outlive a replaced file, travel and are undone, the folder’s own too', async () => {
  const sessionId = await imported();
  const before = await seen(sessionId);
  expect(before.clock).toMatchObject({ tiePointsUsed: 4, evidence: { basis: 'callouts' } });
  expect(Math.abs((before.clock.offsetS.value ?? 0) - 12)).toBeLessThan(0.5);
  expect(peopleIn(await exported(sessionId))).toBe(OWN);

  // Of two judgements on one value the later counts: the folder's own rejection comes first.
  const words = [
    { kind: 'reject', line: LINE_OF_25 },
    { kind: 'accept', line: LINE_OF_20 },
    { kind: 'accept', line: LINE_OF_DOUBT },
    { kind: 'correct', line: LINE_OF_15, quantity: 'range', saidSi: 14.9 },
    { kind: 'tie-point', sourceS: 60, sessionS: 72.4, sdS: 0.05 },
  ];
  await atOnce(words.map((word) => () => saying(sessionId, word)));
  const after = await seen(sessionId);
  const reviews = after.callouts.map(({ line, review, said }) => [line, review, said.value]);
  expect(reviews).toEqual([
    [LINE_OF_25, 'rejected', 25],
    [LINE_OF_20, 'accepted', 20],
    [LINE_OF_15, 'corrected', 14.9],
    [expect.any(Number), null, 10],
    [expect.any(Number), null, 8],
    [LINE_OF_DOUBT, 'accepted', 7],
  ]);
  expect(after.clock.tiePointsUsed).toBe(6);
  const offBy = ({ clock }: typeof after) => Math.abs((clock.offsetS.value ?? 0) - 12.4);
  expect(offBy(after)).toBeLessThan(offBy(before));

  expect((await endedJob(replacing(sessionId))).state).toBe('done');
  expect(await seen(sessionId)).toEqual(after);

  const files = await exported(sessionId);
  const people = readPeopleFile(peopleIn(files), 'people.yaml').value?.clockCorrections ?? [];
  expect(people.map(({ by }) => by)).toEqual(['A. Reviewer', ...Array(5).fill('Local reviewer')]);
  expect(await readAgain(files)).toEqual(after);

  const kept = await madeHere(sessionId);
  await atOnce(
    kept.map(
      ({ id, version }) =>
        () =>
          runCommand(undoCorrection, { id, version }),
    ),
  );
  expect(await seen(sessionId)).toEqual(before);
  expect(peopleIn(await exported(sessionId))).toBe(OWN);
  const [first] = await madeHere(sessionId);
  const twice = { id: first?.id, version: first?.version };
  expect(await runCommand(undoCorrection, twice)).toMatchObject({ code: 'undone-already' });
  const late = { id: first?.id, version: 1 };
  expect(await runCommand(undoCorrection, late)).toMatchObject({
    code: 'changed-meanwhile',
    newer: { undoneBy: 'Local reviewer' },
  });
  await undoTheFoldersOwn(sessionId, before);
});

/** Undone and put back on a session whose folder, replaced since, says one thing of its own. */
async function undoTheFoldersOwn(sessionId: string, before: ReturnType<typeof seenIn>) {
  await stopQueue();
  const [own] = await loadCorrections(sessionId);
  expect(own).toMatchObject({ author: 'A. Reviewer', createdAtIso: null, undone: null });
  const word = { sessionId, ...own?.unkept };
  expect(await runCommand(undoFolderCorrection, word)).toMatchObject({ ok: true });
  expect(await runCommand(undoFolderCorrection, word)).toMatchObject({ code: 'undone-already' });
  const other = { ...word, words: '[]' };
  expect(await runCommand(undoFolderCorrection, other)).toMatchObject({ code: 'not-in-folder' });

  const files = await exported(sessionId);
  expect(readPeopleFile(peopleIn(files), 'people.yaml').value?.clockCorrections).toEqual([]);
  const without = await readAgain(files);
  const usedOf = ({ callouts }: typeof before) =>
    callouts.find(({ line }) => line === LINE_OF_20)?.review;
  expect([usedOf(before), usedOf(without)]).toEqual(['rejected', null]);
  expect(without.clock.tiePointsUsed).toBe(5);

  const [row] = await loadCorrections(sessionId);
  const undone = { by: 'Local reviewer' };
  expect(row).toMatchObject({ author: 'A. Reviewer', createdAtIso: null, undone });
  const { id, version } = row ?? {};
  expect(await runCommand(restoreCorrection, { id, version })).toMatchObject({ ok: true });
  expect((await loadCorrections(sessionId))[0]).toMatchObject({ createdAtIso: null, undone: null });
  expect(peopleIn(await exported(sessionId))).toBe(OWN);
}

test('what cannot be is refused by the name of its field, and nothing is kept', async () => {
  const sessionId = await addSession('s');
  expect(await saying(sessionId, { kind: 'reject', line: 4, reason: ' ' })).toMatchObject({
    fields: { 'word.reason': 'A reason is needed.' },
  });
  const range = { kind: 'correct', line: 4, quantity: 'range' };
  expect(await saying(sessionId, { ...range, saidSi: 0 })).toMatchObject({
    fields: { 'word.saidSi': 'A range is more than 0.' },
  });
  expect(await saying(sessionId, { ...range, saidSi: 1e14 })).toMatchObject({
    fields: { 'word.saidSi': 'A range is at most 1,000,000 km.' },
  });
  const tie = { kind: 'tie-point', sourceS: 1e12, sessionS: 0, sdS: 1e5 };
  expect(await saying(sessionId, tie)).toMatchObject({
    fields: {
      'word.sourceS': 'More than 30 years from zero is no time of a session.',
      'word.sdS': 'At most 3600 s.',
    },
  });
  expect(await saying(sessionId, { kind: 'reject', line: 4 })).toMatchObject({
    code: 'no-such-source',
    message: 'The session has no source loop.vtt.',
  });
  expect(await madeHere(sessionId)).toEqual([]);
});
