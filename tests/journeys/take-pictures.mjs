// Takes the pictures of the README from the running demo: `node tests/journeys/take-pictures.mjs`.
import { spawnSync } from 'node:child_process';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '..', '..');
for (const program of [['lib/cli/run.mjs', 'prepare'], ['.built/take-pictures.mjs']]) {
  const { status } = spawnSync(process.execPath, program, { stdio: 'inherit', cwd: root });
  if (status !== 0) process.exit(status ?? 1);
}
