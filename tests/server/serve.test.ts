import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { lockDataDir } from '@/lib/server/lock-data-dir';

const SERVE = path.resolve(import.meta.dirname, '../../.built/serve.mjs');
const scratch = { dir: '' };
beforeEach(() => {
  scratch.dir = mkdtempSync(path.join(os.tmpdir(), 'wakeline-serve-'));
});
afterEach(() => rmSync(scratch.dir, { recursive: true, force: true }));

/** Starts the server with settings that it must refuse. */
function refused(settings: Record<string, string>): { lines: string[]; status: number | null } {
  const { PATH = '' } = process.env;
  const run = spawnSync(process.execPath, [SERVE], {
    encoding: 'utf8',
    timeout: 120_000,
    env: {
      PATH,
      NODE_ENV: 'production',
      DATA_DIR: path.join(scratch.dir, 'data'),
      ...settings,
    },
  });
  const lines = `${run.stdout}${run.stderr}`.split('\n').filter((line) => line !== '');
  return { lines, status: run.status };
}

async function freePort(): Promise<string> {
  const probe = createServer();
  const port = await new Promise<number>((resolve) =>
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      resolve(typeof address === 'object' && address !== null ? address.port : 0);
    }),
  );
  await new Promise((resolve) => probe.close(resolve));
  return String(port);
}

test('each wrong setting is one line, and the program ends with 1', () => {
  const { lines, status } = refused({ PORT: 'x', HOST: '0.0.0.0', DATABASE_URL: 'postgres://a' });
  expect(status).toBe(1);
  expect(lines.map((line) => line.split(' ')[0])).toEqual(['PORT', 'HOST', 'DATABASE_URL']);
});

test('a port that is in use is said', async () => {
  const other = createServer();
  await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
  const address = other.address();
  const port = String(typeof address === 'object' && address !== null ? address.port : 0);
  const { lines, status } = refused({ PORT: port });
  other.close();
  expect(status).toBe(1);
  expect(lines).toEqual([
    `Port ${port} on 127.0.0.1 is already in use: set PORT to another number.`,
  ]);
});

test('a data folder that another server holds is said', async () => {
  expect(lockDataDir(scratch.dir)).toBe(true);
  const { lines, status } = refused({ PORT: await freePort(), DATA_DIR: scratch.dir });
  expect(status).toBe(1);
  expect(lines).toEqual([`DATA_DIR "${scratch.dir}" is in use by another running server.`]);
});

test('a data folder that cannot be made and a database that is none are said', async () => {
  const file = path.join(scratch.dir, 'file');
  writeFileSync(file, 'x'.repeat(4096));
  const port = await freePort();
  const noFolder = refused({ PORT: port, DATA_DIR: path.join(file, 'data') });
  expect(noFolder.lines).toHaveLength(1);
  expect(noFolder.lines[0]).toMatch(/^DATA_DIR ".*" cannot be made or written/);
  const noDatabase = refused({ PORT: port, DATABASE_URL: `file:${file}` });
  expect(noDatabase.lines).toHaveLength(1);
  expect(noDatabase.lines[0]).toMatch(/^The database cannot be used/);
});
