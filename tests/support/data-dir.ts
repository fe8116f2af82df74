/** A DATA_DIR of its own for each test, with a database copied from one that was migrated once. */
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach } from 'vitest';
import { ensureLocalActor } from '@/lib/server/actor';
import { closeDatabase } from '@/lib/server/db';
import { migrate } from '@/prisma/migrate.mjs';

const scratch = (): string => mkdtempSync(path.join(os.tmpdir(), 'wakeline-test-'));

/** Registers the hooks; afterwards `dataDir()` is the current test's folder and `db()` its database. */
export function freshDataDir(): { dataDir: () => string } {
  const kept = { template: '', current: '' };

  beforeAll(() => {
    kept.template = scratch();
    migrate({ url: `file:${path.join(kept.template, 'wakeline.db')}` });
  });
  beforeEach(async () => {
    kept.current = scratch();
    cpSync(kept.template, kept.current, { recursive: true }); // with the write-ahead log
    process.env.DATA_DIR = kept.current;
    delete process.env.DATABASE_URL;
    await ensureLocalActor();
  });
  afterEach(async () => {
    await closeDatabase();
    rmSync(kept.current, { recursive: true, force: true });
  });
  afterAll(() => rmSync(kept.template, { recursive: true, force: true }));
  return { dataDir: () => kept.current };
}
