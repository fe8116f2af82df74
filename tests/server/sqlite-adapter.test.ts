import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { db } from '@/lib/server/db';
import { env } from '@/lib/server/env';
import { BUSY_TIMEOUT_MS } from '@/lib/server/sqlite-adapter';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

const COUNT_UP = path.resolve(import.meta.dirname, '../../.built/count-up.mjs');

/** The settings as the connection itself reports them. */
async function settings(): Promise<Record<string, unknown>> {
  const found: Record<string, unknown> = {};
  for (const name of ['journal_mode', 'synchronous', 'foreign_keys', 'busy_timeout']) {
    const rows = await db().$queryRawUnsafe<Record<string, unknown>[]>(`PRAGMA ${name}`);
    found[name] = Object.values(rows[0] ?? {})[0];
  }
  return found;
}

/** WAL; FULL is 2 in SQLite's documentation of PRAGMA synchronous. */
const DURABLE = {
  journal_mode: 'wal',
  synchronous: 2,
  foreign_keys: 1,
  busy_timeout: BUSY_TIMEOUT_MS,
};

function exitCode(program: ReturnType<typeof spawn>): Promise<number | null> {
  return new Promise((resolve) => program.once('exit', resolve));
}

test('a new connection is durable, and stays so after transactions kept and undone', async () => {
  expect(await settings()).toEqual(DURABLE);
  await addSession('kept');
  await db().$transaction((tx) => tx.session.count());
  await expect(
    db().$transaction(async () => {
      throw new Error('undone');
    }),
  ).rejects.toThrow('undone');
  expect(await settings()).toEqual(DURABLE);
});

test('references are enforced', async () => {
  await expect(
    db().annotation.create({
      data: {
        id: 'a',
        sessionId: 'none',
        fromS: 0,
        toS: 1,
        channels: '[]',
        text: 'x',
        author: 'x',
      },
    }),
  ).rejects.toThrow(/foreign key/i);
});

test('a 64-bit instant comes back to the last nanosecond', async () => {
  await addSession('s1');
  const exact = 1_750_000_037_000_000_001n;
  await db().session.update({ where: { id: 's1' }, data: { zeroTaiNs: exact } });
  const row = await db().session.findFirst({ select: { zeroTaiNs: true } });
  expect(row?.zeroTaiNs).toBe(exact);
});

test('a thousand transactions leave no connection open', async () => {
  await addSession('s1');
  const openFiles = (): number => readdirSync('/proc/self/fd').length;
  const before = openFiles();
  for (let turn = 0; turn < 1000; turn += 1) {
    await db().$transaction((tx) => tx.session.count());
  }
  expect(openFiles() - before).toBeLessThan(5);
});

test('two processes that read and write back the same row lose nothing', async () => {
  await addSession('s1');
  const times = 300;
  const children = [1, 2].map(() =>
    spawn(process.execPath, [COUNT_UP, env().databaseUrl, 's1', String(times)], {
      stdio: 'inherit',
    }),
  );
  expect(await Promise.all(children.map(exitCode))).toEqual([0, 0]);
  const row = await db().session.findFirst({ select: { version: true } });
  expect(row?.version).toBe(1 + 2 * times);
});

test('twenty writers in this process lose nothing', async () => {
  await addSession('s1');
  const where = { id: 's1' };
  const writer = async (): Promise<void> => {
    for (let turn = 0; turn < 20; turn += 1) {
      await db().$transaction(async (tx) => {
        const row = await tx.session.findUniqueOrThrow({ where, select: { version: true } });
        await tx.session.update({ where, data: { version: row.version + 1 } });
      });
    }
  };
  await Promise.all(Array.from({ length: 20 }, writer));
  const row = await db().session.findFirst({ select: { version: true } });
  expect(row?.version).toBe(1 + 20 * 20);
});
