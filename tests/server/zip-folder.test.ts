import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { unzipSync } from 'fflate';
import { expect, test } from 'vitest';
import { listFiles } from '@/lib/server/durable-files';
import { unzip } from '@/lib/server/uploads/unzip';
import { zipFolder } from '@/lib/server/uploads/zip-folder';
import { freshDataDir } from '../support/data-dir';

const { dataDir } = freshDataDir();

async function packed(folder: string): Promise<Buffer> {
  const blocks: Buffer[] = [];
  for await (const block of (await zipFolder(folder)) ?? []) blocks.push(block);
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
