/** The sample store of one run of the command, in the place for temporary files. */
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

const STORE_PREFIX = 'wakeline-debrief-';
const DAY_MS = 86_400_000;

/** Removes stores of runs that were killed, once no run can still be at work on them. */
function sweepOldStores(): void {
  for (const name of readdirSync(tmpdir())) {
    if (!name.startsWith(STORE_PREFIX)) continue;
    const place = path.join(tmpdir(), name);
    try {
      const isOld = Date.now() - statSync(place).mtimeMs > DAY_MS;
      if (isOld) rmSync(place, { recursive: true, force: true });
    } catch {
      // Another user's, or gone meanwhile: it stays as it is.
    }
  }
}

/** The sample store of this run; null where the place for temporary files takes none. */
export function makeStore(): string | null {
  try {
    sweepOldStores();
    return mkdtempSync(path.join(tmpdir(), STORE_PREFIX));
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    console.error(`no temporary folder can be made in ${tmpdir()}: ${reason}`);
    console.error('TMPDIR names another place for it');
    return null;
  }
}
