// Generates the database client into prisma/generated. Prisma's command line insists on a schema
// engine that `generate` never starts; naming any existing file stops its download.
import { spawnSync } from 'node:child_process';

const run = spawnSync(
  process.execPath,
  [
    'node_modules/prisma/build/index.js',
    'generate',
    '--schema',
    'prisma/schema.prisma',
    '--no-hints',
  ],
  {
    encoding: 'utf8',
    env: {
      ...process.env,
      CHECKPOINT_DISABLE: '1',
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
      PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
    },
  },
);
if (run.status !== 0) {
  process.stderr.write(`${run.stdout}${run.stderr}`);
  process.exit(run.status ?? 1);
}
