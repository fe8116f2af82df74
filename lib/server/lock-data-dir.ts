/** One server per data folder: the lock is the operating system's and ends with the process. */
import path from 'node:path';
import Database from 'libsql';

// Held for as long as the process lives; a closed database would give the lock back.
const held: Database.Database[] = [];

/** @returns false when another process holds the folder; throws when it cannot be written */
export function lockDataDir(dataDir: string): boolean {
  const lock = new Database(path.join(dataDir, 'server.lock'), { timeout: 0 });
  try {
    lock.exec('PRAGMA locking_mode = EXCLUSIVE');
    lock.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    lock.close();
    const isHeld = error instanceof Error && 'code' in error && error.code === 'SQLITE_BUSY';
    if (isHeld) return false;
    throw error;
  }
  held.push(lock);
  return true;
}
