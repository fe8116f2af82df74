/** The memory that the import of a file of 4 GB takes, in a process of its own. */
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { seededRandom } from '../support/seeded-random';
import type { Bench, BenchRow } from './bench';
import { LARGE_CHANNELS } from './large-spec';

const BYTES = 4_000_000_000;
const LIMIT_KB = 1_200_000;
/** Rows whose cells differ; after these they come again under later stamps. */
const DIFFERENT_ROWS = 20_000;
const FLUSH_CHARACTERS = 1 << 22;

const answerSchema = z.object({ peakKb: z.number(), rows: z.number(), seconds: z.number() });

/** @returns rows written */
function writeLargeCsv(file: string): number {
  const random = seededRandom(4);
  const cells = Array.from({ length: DIFFERENT_ROWS }, () =>
    LARGE_CHANNELS.map(() => (random() * 100).toFixed(6)).join(','),
  );
  const out = openSync(file, 'w');
  try {
    let text = `t,${LARGE_CHANNELS.join(',')}\n`;
    let bytes = 0;
    let row = 0;
    while (bytes + text.length < BYTES) {
      text += `${(row / 100).toFixed(2)},${cells[row % DIFFERENT_ROWS]}\n`;
      row += 1;
      if (text.length < FLUSH_CHARACTERS) continue;
      bytes += writeSync(out, text);
      text = '';
    }
    writeSync(out, text);
    return row;
  } finally {
    closeSync(out);
  }
}

function importInChild(file: string, samplesRoot: string): z.infer<typeof answerSchema> {
  const entry = fileURLToPath(new URL('./large-import.mjs', import.meta.url));
  const child = spawnSync(process.execPath, [entry, file, samplesRoot], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  if (child.status !== 0) throw new Error(`the import ended with ${child.status}`);
  return answerSchema.parse(JSON.parse(child.stdout));
}

export const largeBench: Bench = {
  name: 'large',
  run: async (say) => {
    const folder = mkdtempSync(path.join(tmpdir(), 'wakeline-bench-'));
    try {
      const file = path.join(folder, 'telemetry.csv');
      say('writing a file of 4 GB');
      const rows = writeLargeCsv(file);
      say('importing it');
      const answer = importInChild(file, path.join(folder, 'samples'));
      if (answer.rows !== rows) throw new Error(`${answer.rows} of ${rows} rows were read`);
      const row: BenchRow = {
        what: `memory of importing ${(BYTES / 1e9).toFixed(1)} GB`,
        unit: 'kB',
        measured: answer.peakKb,
        reference: LIMIT_KB,
        against: 'the limit',
        must: 1,
        aim: 0.8,
        detail: `${rows} rows in ${answer.seconds.toFixed(0)} s, greatest resident set of the process`,
      };
      return [row];
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};
