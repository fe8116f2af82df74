import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import { ReadableStream } from 'node:stream/web';
import { expect, test } from 'vitest';
import { uploadsRoot } from '@/lib/server/data-folders';
import { listFiles } from '@/lib/server/durable-files';
import {
  type ReceivedFile,
  receiveFile,
  removeUpload,
  uploadFolder,
} from '@/lib/server/uploads/receive-file';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

const LIMITS = { maxBytes: 100, keepFreeBytes: 0 };

function bodyOf(...chunks: string[]): ReadableStream<Uint8Array> {
  return new ReadableStream({
    start(controller) {
      for (const chunk of chunks) controller.enqueue(Buffer.from(chunk));
      controller.close();
    },
  });
}

function incoming(
  name: string,
  body: ReadableStream<Uint8Array> | null = bodyOf('t,x\n', '1,2\n'),
) {
  return { uploadId: null, name, announcedBytes: null, body, signal: AbortSignal.timeout(10_000) };
}

async function received(name: string): Promise<ReceivedFile> {
  const answer = await receiveFile(incoming(name), LIMITS);
  if ('status' in answer) throw new Error(answer.message);
  return answer;
}

test('a file arrives whole, with its size and hash', async () => {
  const file = await received('flight/telemetry.csv');
  const written = readFileSync(path.join(uploadFolder(file.uploadId), 'files', file.name));
  expect(written.toString()).toBe('t,x\n1,2\n');
  expect(file.bytes).toBe(8);
  expect(file.sha256).toBe(createHash('sha256').update(written).digest('hex'));
});

test('further files join the upload; the same name twice and an unknown upload are refused', async () => {
  const { uploadId } = await received('a.csv');
  const second = await receiveFile({ ...incoming('b.csv'), uploadId }, LIMITS);
  expect(second).toMatchObject({ uploadId, name: 'b.csv' });
  const twice = await receiveFile({ ...incoming('b.csv'), uploadId }, LIMITS);
  expect(twice).toMatchObject({ status: 409, code: 'name-twice' });
  const inside = await receiveFile({ ...incoming('b.csv/c.csv'), uploadId }, LIMITS);
  expect(inside).toMatchObject({ status: 409, code: 'name-twice' });
  const nowhere = { ...incoming('b.csv'), uploadId: '0123456789abcdef' };
  expect(await receiveFile(nowhere, LIMITS)).toMatchObject({ status: 404 });
});

test('of files that come at once under one name, one is kept', async () => {
  const { uploadId } = await received('a.csv');
  const bodies = Array.from({ length: 6 }, (_, index) => `body ${index}\n`.repeat(index + 1));
  const answers = await Promise.all(
    bodies.map((body) => receiveFile({ ...incoming('b.csv', bodyOf(body)), uploadId }, LIMITS)),
  );
  const kept = answers.flatMap((answer) => ('sha256' in answer ? [answer.sha256] : []));
  expect(kept).toHaveLength(1);
  expect(answers.filter((answer) => 'status' in answer && answer.status === 409)).toHaveLength(5);
  const written = readFileSync(path.join(uploadFolder(uploadId), 'files', 'b.csv'));
  expect(createHash('sha256').update(written).digest('hex')).toBe(kept[0]);
});

test.each([
  ['A.CSV', 'a.csv'],
  ['\u00e9.csv', 'e\u0301.csv'],
])('%j and %j are one name', async (first, second) => {
  const { uploadId } = await received(first);
  const answer = await receiveFile({ ...incoming(second), uploadId }, LIMITS);
  expect(answer).toMatchObject({ status: 409, code: 'name-twice' });
  expect(await listFiles(path.join(uploadFolder(uploadId), 'files'))).toHaveLength(1);
});

test('signs that hide or turn text round are written out in a refusal', async () => {
  const answer = await receiveFile(incoming(`\u202egpj\n${'x'.repeat(500)}`), LIMITS);
  expect(answer).toMatchObject({ code: 'unsafe-name' });
  const message = 'message' in answer ? answer.message : '';
  expect(message).toMatch(/^"\\u202egpj\\u000ax+…" is no plain file name/);
});

test.each(['../a.csv', '/a.csv', '', 'a/../../b', 'a\u0000b', 'con\\x', ' a.csv'])(
  'the name %j is refused and nothing is written',
  async (name) => {
    expect(await receiveFile(incoming(name), LIMITS)).toMatchObject({ code: 'unsafe-name' });
    expect(existsSync(uploadsRoot())).toBe(false);
  },
);

test('a file over the limit is refused, announced or not, and leaves nothing', async () => {
  const announced = { ...incoming('a.csv'), announcedBytes: 101 };
  expect(await receiveFile(announced, LIMITS)).toMatchObject({ status: 413, code: 'too-large' });
  const silent = incoming('a.csv', bodyOf('x'.repeat(60), 'y'.repeat(60)));
  const answer = await receiveFile(silent, LIMITS);
  expect(answer).toMatchObject({ status: 413, message: '"a.csv" is larger than 100 bytes.' });
  expect(readdirSync(uploadsRoot())).toEqual([]);
});

test('a full disk is said before the file is taken in', async () => {
  const limits = { maxBytes: 1e18, keepFreeBytes: 1e18 };
  const answer = await receiveFile({ ...incoming('a.csv'), announcedBytes: 8 }, limits);
  expect(answer).toMatchObject({ status: 507, code: 'disk-full' });
});

test('a sender who goes away in the middle leaves nothing of the file', async () => {
  const { uploadId } = await received('a.csv');
  const leaving = new AbortController();
  const body = new ReadableStream<Uint8Array>({
    pull(controller) {
      controller.enqueue(Buffer.from('half'));
      setTimeout(() => leaving.abort(), 20);
      return new Promise(() => {});
    },
  });
  const half = { ...incoming('b.csv', body), uploadId, signal: leaving.signal };
  await expect(receiveFile(half, LIMITS)).rejects.toThrow();
  expect(await listFiles(path.join(uploadFolder(uploadId), 'files'))).toEqual(['a.csv']);
  const again = await receiveFile({ ...incoming('b.csv'), uploadId }, LIMITS);
  expect(again).toMatchObject({ uploadId, name: 'b.csv' });
});

test('a body that fails or ends early is refused, and nothing of it is left', async () => {
  const failing = new ReadableStream<Uint8Array>({
    start(controller) {
      controller.enqueue(Buffer.from('half'));
      setTimeout(() => controller.error(new Error('aborted')), 5);
    },
  });
  const wanted = { status: 400, code: 'broken-off' };
  expect(await receiveFile(incoming('a.csv', failing), LIMITS)).toMatchObject(wanted);
  const short = { ...incoming('a.csv', bodyOf('half')), announcedBytes: 8 };
  expect(await receiveFile(short, LIMITS)).toMatchObject(wanted);
  expect(readdirSync(uploadsRoot())).toEqual([]);
});

test('a removed upload is gone, also when something was being added to it', async () => {
  const { uploadId } = await received('a.csv');
  const folder = uploadFolder(uploadId);
  const adding = async (): Promise<void> => {
    for (let part = 0; part < 12; part += 1)
      await writeFile(path.join(folder, `${part}.part`), 'x').catch(() => null); // gone by then
  };
  await Promise.all([adding(), removeUpload(uploadId)]);
  expect(existsSync(folder)).toBe(false);
});
