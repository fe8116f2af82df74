import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { unzipSync } from 'fflate';
import { expect, test } from 'vitest';
import { listFiles } from '@/lib/server/durable-files';
import { unzip } from '@/lib/server/uploads/unzip';
import { zipContents, zipFolder } from '@/lib/server/uploads/zip-folder';
import { freshDataDir } from '../support/data-dir';

const { dataDir } = freshDataDir();

async function packed(folder: string): Promise<Buffer> {
  const blocks: Buffer[] = [];
  for await (const block of await zipFolder(folder)) blocks.push(block);
  return Buffer.concat(blocks);
}

test('a packed folder is read by another program and by our own reader', async () => {
  const folder = path.join(dataDir(), 'flight');
  mkdirSync(path.join(folder, 'simulations'), { recursive: true });
  const csv = 't,x\n0.1,0.25\n'.repeat(50_000);
  writeFileSync(path.join(folder, 'session.yaml'), 'title: Ä\n');
  writeFileSync(path.join(folder, 'simulations', 'run 1.csv'), csv);
  writeFileSync(path.join(folder, 'empty.vtt'), '');
  const bytes = await packed(folder);

  const other = unzipSync(bytes); // fflate
  expect(Object.keys(other).sort()).toEqual(['empty.vtt', 'session.yaml', 'simulations/run 1.csv']);
  expect(Buffer.from(other['simulations/run 1.csv'] ?? []).toString()).toBe(csv);

  const file = path.join(dataDir(), 'flight.zip');
  const into = path.join(dataDir(), 'again');
  writeFileSync(file, bytes);
  expect(await unzip({ file, into })).toEqual([]);
  expect(await listFiles(into)).toEqual(await listFiles(folder));
  expect(readFileSync(path.join(into, 'session.yaml'), 'utf8')).toBe('title: Ä\n');
});

test('the same folder gives the same bytes', async () => {
  const folder = path.join(dataDir(), 'flight');
  mkdirSync(folder);
  writeFileSync(path.join(folder, 'a.csv'), 't,x\n');
  expect((await packed(folder)).equals(await packed(folder))).toBe(true);
});

/**
 * Source: PKWARE, APPNOTE.TXT 6.3.10 (2022), 4.3.14 to 4.3.16 and 4.5.3 (ZIP64). An archive over 4 GiB
 * is written alike, which was tried by hand with Info-ZIP and Python's zipfile; fflate reads it here.
 */
test('an archive with numbers of 64 bits is read by another program and by our own reader', async () => {
  const folder = path.join(dataDir(), 'wide');
  const csv = 't,x\n0.1,0.25\n'.repeat(1000);
  mkdirSync(folder);
  writeFileSync(path.join(folder, 'a.csv'), csv);
  const contents = new Map([
    ['a.csv', { file: path.join(folder, 'a.csv'), bytes: csv.length }],
    ['b.txt', { text: 'Ä' }],
  ]);
  const blocks: Buffer[] = [];
  for await (const block of zipContents(contents, 'wide')) blocks.push(block);
  const bytes = Buffer.concat(blocks);
  expect(bytes.readUInt16LE(4)).toBe(45);
  const other = unzipSync(bytes);
  expect([Buffer.from(other['a.csv'] ?? []).toString(), Object.keys(other).length]).toEqual([
    csv,
    2,
  ]);
  const file = path.join(dataDir(), 'wide.zip');
  const into = path.join(dataDir(), 'wide-again');
  writeFileSync(file, bytes);
  expect(await unzip({ file, into })).toEqual([]);
  expect(readFileSync(path.join(into, 'b.txt'), 'utf8')).toBe('Ä');
  expect(readFileSync(path.join(into, 'a.csv'), 'utf8')).toBe(csv);
});

test('a file that is gone while the archive is sent ends it with that fault', async () => {
  const gone = { file: path.join(dataDir(), 'gone.csv'), bytes: 3 };
  const packing = async () => {
    for await (const block of zipContents(new Map([['gone.csv', gone]])))
      expect(block).toBeDefined();
  };
  await expect(packing()).rejects.toThrow('ENOENT');
});
