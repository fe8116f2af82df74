// Applies prisma/migrations/sqlite/*/migration.sql in order, all in one transaction. The bookkeeping
// table and checksums are Prisma's own, so that its tools can read them; no engine binary is needed.
import { createHash, randomUUID } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import Database from 'libsql';

const BOOKKEEPING = `CREATE TABLE IF NOT EXISTS "_prisma_migrations" (
  "id" TEXT PRIMARY KEY NOT NULL, "checksum" TEXT NOT NULL, "finished_at" DATETIME,
  "migration_name" TEXT NOT NULL, "logs" TEXT, "rolled_back_at" DATETIME,
  "started_at" DATETIME NOT NULL DEFAULT current_timestamp,
  "applied_steps_count" INTEGER NOT NULL DEFAULT 0)`;

/** The migrations of a folder, oldest first: name, SQL, SHA-256. */
export function readMigrations(folder) {
  return readdirSync(folder)
    .filter((name) => existsSync(path.join(folder, name, 'migration.sql')))
    .sort()
    .map((name) => {
      const sql = readFileSync(path.join(folder, name, 'migration.sql'), 'utf8');
      return { name, sql, checksum: createHash('sha256').update(sql).digest('hex') };
    });
}

/**
 * Brings the database of `url` (`file:...`) to the newest migration and returns the names applied.
 * Refuses a migration that was changed after it ran and a database newer than the program.
 */
export function migrate({ url, folder = path.join(import.meta.dirname, 'migrations', 'sqlite') }) {
  const file = path.resolve(url.replace(/^file:/, ''));
  mkdirSync(path.dirname(file), { recursive: true });
  const db = new Database(file, { timeout: 30000 });
  try {
    db.exec('PRAGMA journal_mode = WAL');
    db.exec('PRAGMA synchronous = FULL');
    db.exec('PRAGMA foreign_keys = OFF'); // has no effect inside a transaction, so before it; checked below
    db.exec('BEGIN IMMEDIATE');
    try {
      const applied = applyPending(db, readMigrations(folder));
      if (db.prepare('PRAGMA foreign_key_check').all().length > 0)
        throw new Error('a migration leaves broken references');
      db.exec('COMMIT');
      return applied;
    } catch (error) {
      db.exec('ROLLBACK');
      throw error;
    }
  } finally {
    db.close();
  }
}

function applyPending(db, migrations) {
  db.exec(BOOKKEEPING);
  const rows = db
    .prepare(
      'SELECT migration_name AS name, checksum FROM "_prisma_migrations" WHERE rolled_back_at IS NULL',
    )
    .all();
  const done = new Map(rows.map((row) => [row.name, row.checksum]));
  const known = new Set(migrations.map((migration) => migration.name));
  const unknown = [...done.keys()].filter((name) => !known.has(name));
  if (unknown.length > 0)
    throw new Error(`the database is newer than this program: it knows ${unknown.join(', ')}`);
  const applied = [];
  for (const { name, sql, checksum } of migrations) {
    if (done.has(name)) {
      if (done.get(name) !== checksum)
        throw new Error(`migration ${name} was changed after it was applied`);
      continue;
    }
    db.exec(sql);
    const now = new Date().toISOString();
    db.prepare(
      'INSERT INTO "_prisma_migrations" (id, checksum, started_at, finished_at, migration_name, applied_steps_count) VALUES (?, ?, ?, ?, ?, 1)',
    ).run(randomUUID(), checksum, now, now, name);
    applied.push(name);
  }
  return applied;
}
