import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, utimesSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { GET, HEAD } from '@/app/sessions/[sessionId]/recordings/[recordingId]/route';
import { recordingWords } from '@/lib/core/session/recording';
import { attachRecording } from '@/lib/server/commands/attach-recording';
import { clockRecording } from '@/lib/server/commands/clock-recording';
import { deleteRecordingFile } from '@/lib/server/commands/delete-recording-file';
import { removeRecording } from '@/lib/server/commands/remove-recording';
import { removeSession } from '@/lib/server/commands/remove-session';
import { restoreRecording } from '@/lib/server/commands/restore-recording';
import { restoreRecordingClock } from '@/lib/server/commands/restore-recording-clock';
import { undoRecordingClock } from '@/lib/server/commands/undo-recording-clock';
import { recordingsRoot, sessionsRoot, uploadsRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { sweepRecordings } from '@/lib/server/jobs/sweep';
import { loadRecordings } from '@/lib/server/queries/load-recordings';
import {
  loadExportedRecordings,
  placeFolderRecordings,
  storeRecordings,
} from '@/lib/server/recordings/folder-recordings';
import { freeName } from '@/lib/server/recordings/free-name';
import { runCommand } from '@/lib/server/run-command';
import { receiveFile } from '@/lib/server/uploads/receive-file';
import { addSession } from '../../support/add-session';
import { freshDataDir } from '../../support/data-dir';
import { tonesWav } from '../../support/tones';

freshDataDir();

const WAV = tonesWav(2);
const SHA = createHash('sha256').update(WAV).digest('hex');

async function upload(bytes: Uint8Array, name = 'loop.wav'): Promise<string> {
  const received = await receiveFile({
    uploadId: null,
    name,
    announcedBytes: bytes.length,
    body: new Blob([Uint8Array.from(bytes)]).stream() as never,
    signal: new AbortController().signal,
  });
  if ('status' in received) throw new Error(received.message);
  return received.uploadId;
}

async function attach(sessionId: string, ties: readonly (readonly [number, number])[] = []) {
  const result = await runCommand(attachRecording, {
    sessionId,
    uploadId: await upload(WAV),
    ties,
  });
  if (!result.ok) throw new Error(result.message);
  return result.data.id;
}

const NO_WORDS = {
  mediaType: 'audio/wav',
  durationS: null,
  ties: [],
  author: '',
  reason: '',
  atIso: null,
};

const only = async (sessionId: string) => {
  const [recording] = await loadRecordings(sessionId);
  if (recording === undefined) throw new Error('no recording');
  return recording;
};

type Asked = Readonly<Record<string, string>>;

const asked = (sessionId: string, id: string, headers: Asked = {}, method = 'GET') =>
  (method === 'HEAD' ? HEAD : GET)(new Request('http://127.0.0.1:3000/x', { method, headers }), {
    params: Promise.resolve({ sessionId, recordingId: id }),
  });

test('a recording is kept as it came, with hash, kind, length and clock, and its upload is gone', async () => {
  const sessionId = await addSession('s1');
  await attach(sessionId, [[0, 12.5]]);
  const recording = await only(sessionId);
  expect(recording).toMatchObject({
    name: 'loop.wav',
    mediaType: 'audio/wav',
    sha256: SHA,
    bytes: WAV.length,
    durationS: 2,
    removed: null,
  });
  expect(recordingWords(recording).ties).toEqual([[0, 12.5]]);
  expect(readdirSync(uploadsRoot())).toEqual([]);
  expect(readdirSync(recordingsRoot())).toEqual([recording.folder]);
});

test('a player gets the whole, a part, its head, or that there is no such part', async () => {
  const sessionId = await addSession('s2');
  const id = await attach(sessionId);
  const whole = await asked(sessionId, id);
  expect(whole.status).toBe(200);
  expect(Buffer.from(await whole.arrayBuffer()).equals(WAV)).toBe(true);
  expect(whole.headers.get('accept-ranges')).toBe('bytes');
  const etag = whole.headers.get('etag') ?? '';
  const part = await asked(sessionId, id, { range: 'bytes=44-143', 'if-range': etag });
  expect([part.status, part.headers.get('content-range')]).toEqual([
    206,
    `bytes 44-143/${WAV.length}`,
  ]);
  expect(Buffer.from(await part.arrayBuffer()).equals(WAV.subarray(44, 144))).toBe(true);
  const other = await asked(sessionId, id, { range: 'bytes=44-143', 'if-range': '"x"' });
  expect([other.status, other.headers.get('content-length')]).toEqual([200, `${WAV.length}`]);
  await other.body?.cancel();
  const beyond = await asked(sessionId, id, { range: `bytes=${WAV.length}-` });
  expect([beyond.status, beyond.headers.get('content-range')]).toEqual([
    416,
    `bytes */${WAV.length}`,
  ]);
  const head = await asked(sessionId, id, { range: 'bytes=0-1' }, 'HEAD');
  expect([head.status, head.headers.get('content-length'), head.body]).toEqual([
    200,
    `${WAV.length}`,
    null,
  ]);
  expect((await asked(sessionId, id, { 'if-none-match': etag })).status).toBe(304);
  expect((await asked('s9', id)).status).toBe(404);
});

test('what is no recording is refused by its bytes, and nothing of it stays', async () => {
  const sessionId = await addSession('s3');
  const uploadId = await upload(Buffer.from('time,range\n0,300\n'), 'loop.wav');
  const refused = await runCommand(attachRecording, { sessionId, uploadId, ties: [] });
  expect(refused).toMatchObject({ ok: false, code: 'no-recording' });
  expect(refused.ok ? '' : refused.message).toContain('"loop.wav" begins like a text');
  expect(readdirSync(uploadsRoot())).toEqual([]);
  expect(existsSync(recordingsRoot()) ? readdirSync(recordingsRoot()) : []).toEqual([]);
});

test('the same recording twice is refused without a trace, as is one of no session', async () => {
  const sessionId = await addSession('s4');
  await attach(sessionId);
  const again = { sessionId, uploadId: await upload(WAV, 'copy.wav'), ties: [] };
  expect(await runCommand(attachRecording, again)).toMatchObject({ code: 'attached-already' });
  const lost = { sessionId: 'nowhere', uploadId: await upload(WAV), ties: [] };
  expect(await runCommand(attachRecording, lost)).toMatchObject({ code: 'no-such-session' });
  const gone = { sessionId, uploadId: '0123456789abcdef', ties: [] };
  expect(await runCommand(attachRecording, gone)).toMatchObject({ code: 'no-such-upload' });
  expect(readdirSync(recordingsRoot())).toHaveLength(1);
});

// An archive that holds one name twice by that measure is refused when it comes in.
test('names that differ by capitals alone are one name in an exported folder', () => {
  expect(freeName('LOOP.wav', new Set(['loop.wav', 'Loop (2).WAV']))).toBe('LOOP (3).wav');
  expect(freeName('loop', new Set(['loop.wav']))).toBe('loop');
});

test('a clock is a word that stands until a newer one; undone, the one before counts', async () => {
  const sessionId = await addSession('s5');
  const id = await attach(sessionId, [[0, 10]]);
  const { version } = await only(sessionId);
  const said = {
    id,
    version,
    ties: [
      [60, 75],
      [0, 15],
    ],
    reason: ' heard at contact ',
  };
  expect(await runCommand(clockRecording, said)).toMatchObject({ ok: true });
  expect(await runCommand(clockRecording, said)).toMatchObject({ code: 'changed-meanwhile' });
  const twice = {
    ...said,
    version: version + 1,
    ties: [
      [0, 0],
      [60, 200],
    ],
  };
  expect(await runCommand(clockRecording, twice)).toMatchObject({ code: 'no-clock' });
  const [newest] = (await only(sessionId)).clocks;
  expect(newest).toMatchObject({
    ties: [
      [0, 15],
      [60, 75],
    ],
    reason: 'heard at contact',
  });
  const place = { id: newest?.id ?? '', version: 1 };
  expect(await runCommand(undoRecordingClock, place)).toMatchObject({ ok: true });
  expect(recordingWords(await only(sessionId)).ties).toEqual([[0, 10]]);
  await runCommand(restoreRecordingClock, { ...place, version: 2 });
  expect(recordingWords(await only(sessionId)).ties).toEqual([
    [0, 15],
    [60, 75],
  ]);
});

test('one taken off is not played and can be put back, until its file is deleted', async () => {
  const sessionId = await addSession('s6');
  const id = await attach(sessionId);
  expect(await runCommand(deleteRecordingFile, { id, version: 1 })).toMatchObject({
    code: 'still-attached',
  });
  await runCommand(removeRecording, { id, version: 1 });
  expect((await asked(sessionId, id)).status).toBe(404);
  await runCommand(restoreRecording, { id, version: 2 });
  expect((await asked(sessionId, id, {}, 'HEAD')).status).toBe(200);
  await runCommand(removeRecording, { id, version: 3 });
  await runCommand(deleteRecordingFile, { id, version: 4 });
  expect(readdirSync(recordingsRoot())).toEqual([]);
  expect((await only(sessionId)).removed).not.toBeNull();
});

test('folders that no row names are swept at start, while at work only those left for long', async () => {
  const sessionId = await addSession('s7');
  await attach(sessionId);
  const { folder } = await only(sessionId);
  for (const name of ['new.part', 'old.part']) mkdirSync(path.join(recordingsRoot(), name));
  utimesSync(path.join(recordingsRoot(), 'old.part'), 1, 1);
  expect(await sweepRecordings({ idleMs: 60_000 })).toEqual([
    { place: 'recordings', folders: ['old.part'] },
  ]);
  await sweepRecordings({ idleMs: 0 });
  expect(readdirSync(recordingsRoot())).toEqual([folder]);
});

test('a session that is removed takes the files of its recordings along', async () => {
  const sessionId = await addSession('s8');
  await attach(sessionId);
  mkdirSync(sessionsRoot(), { recursive: true });
  expect(await runCommand(removeSession, { sessionId, version: 1 })).toMatchObject({ ok: true });
  expect(readdirSync(recordingsRoot())).toEqual([]);
});

test('with a folder a recording goes out under its hash, and one that did not travel is asked for', async () => {
  const [from, to] = [await addSession('s10'), await addSession('s11')];
  await attach(from, [[0, 12.5]]);
  const words = recordingWords(await only(from));
  const exported = await loadExportedRecordings(from);
  expect(exported.files.map(({ name, bytes }) => [name, bytes])).toEqual([
    ['recordings/loop.wav', WAV.length],
  ]);
  const folder = path.join(sessionsRoot(), 'folder');
  mkdirSync(path.join(folder, 'recordings'), { recursive: true });
  const without = await placeFolderRecordings(folder, [words]);
  expect(without.issues).toMatchObject([{ code: 'recording-not-here', severity: 'note' }]);
  writeFileSync(path.join(folder, 'recordings/loop.wav'), tonesWav(1));
  const other = await placeFolderRecordings(folder, [words]);
  expect(other.issues).toMatchObject([{ code: 'recording-differs' }]);
  await db().$transaction((tx) => storeRecordings(tx, to, without.recordings));
  expect(await only(to)).toMatchObject({ folder: '', sha256: SHA, name: 'loop.wav' });
  // The very file, sent by hand: it takes its place and keeps the clock that travelled.
  await attach(to);
  const [filled, ...more] = await loadRecordings(to);
  expect(more).toEqual([]);
  expect(filled?.folder).not.toBe('');
  expect(filled?.clocks.map(({ ties }) => ties)).toEqual([[[0, 12.5]]]);
  writeFileSync(path.join(folder, 'recordings/loop.wav'), WAV);
  const along = await placeFolderRecordings(folder, [words]);
  expect(along).toMatchObject({ issues: [], recordings: [{ durationS: 2 }] });
});

test('a name in people.yaml that leads elsewhere or names a folder is told and attaches nothing', async () => {
  const sessionId = await addSession('s12');
  const folder = path.join(sessionsRoot(), 'folder');
  mkdirSync(path.join(folder, 'recordings/inner'), { recursive: true });
  const words = { ...NO_WORDS, sha256: SHA, bytes: 1 };
  const placed = await placeFolderRecordings(folder, [
    { ...words, name: '..' },
    { ...words, name: 'inner' },
  ]);
  expect(placed.issues.map(({ code }) => code)).toEqual(['unsafe-name', 'unsafe-name']);
  await db().$transaction((tx) => storeRecordings(tx, sessionId, placed.recordings.slice(0, 1)));
  expect(await loadRecordings(sessionId)).toEqual([]);
});
