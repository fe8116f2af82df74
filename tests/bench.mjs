// Measures what has a stated limit, each against something measured in the same run. Ends with 1 when
// a `must` is missed. `node tests/bench.mjs NAME` runs one of them; the one of
// a 4 GB file runs only so, as `--large`.
import { spawnSync } from 'node:child_process';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '..');
const result = spawnSync(
  process.execPath,
  ['--enable-source-maps', path.join(root, '.built', 'bench.mjs'), ...process.argv.slice(2)],
  { stdio: 'inherit', cwd: root },
);
process.exit(result.status ?? 1);
