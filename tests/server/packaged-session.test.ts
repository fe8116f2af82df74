/** What of a session folder stays out of a data package that would be too large: recordings first. */
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { sessionFiles } from '@/lib/server/publish/package/packaged-session';

const root = mkdtempSync(path.join(tmpdir(), 'wakeline-packaged-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

function written(name: string, bytes: number) {
  const file = path.join(root, name.replace('/', '-'));
  writeFileSync(file, 'x'.repeat(bytes));
  return { name, file, bytes };
}

const folder = mkdtempSync(path.join(root, 'folder-'));
writeFileSync(path.join(folder, 'telemetry.csv'), 'x'.repeat(5000));
writeFileSync(path.join(folder, 'events.csv'), 'x'.repeat(300));
const recordings = {
  files: [written('recordings/loop.wav', 400), written('recordings/camera.mp4', 900)],
  names: [],
};
const inputs = { folder, texts: [['people.yaml', 'x'.repeat(100)]] as const, recordings };

// Together 5000 + 300 + 400 + 900 + 100 = 6700 bytes.
test.each([
  [6700, []],
  [6699, ['recordings/camera.mp4']],
  [5799, ['recordings/camera.mp4', 'recordings/loop.wav']],
  [5399, ['recordings/camera.mp4', 'recordings/loop.wav', 'telemetry.csv']],
])('of 6700 bytes where %i may travel, %j stay out', async (mostBytes, out) => {
  const { files, leftOut } = await sessionFiles(inputs, mostBytes);
  expect(leftOut.map(({ name }) => name)).toEqual(out.map((name) => `session/${name}`));
  expect(files.size + leftOut.length).toBe(5);
  for (const { name, bytes, sha256 } of leftOut) {
    expect(files.has(name)).toBe(false);
    expect(sha256).toBe(createHash('sha256').update('x'.repeat(bytes)).digest('hex'));
  }
});
