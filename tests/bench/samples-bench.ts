/** Import against DuckDB's own conversion of the same file, and an envelope against a whole channel. */
import { mkdtemp, open, rm, stat } from 'node:fs/promises';
import { availableParallelism, tmpdir } from 'node:os';
import path from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { readDoubles } from '@/lib/server/samples/double-chunks';
import { withConnection } from '@/lib/server/samples/engine';
import { folderTable } from '@/lib/server/samples/folder-index';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readEnvelope } from '@/lib/server/samples/read-envelope';
import { channelSpec, telemetrySpec, ZERO } from '../support/telemetry-spec';
import { type Bench, type BenchRow, type Cost, costOf, median, secondsOf } from './bench';
import { BENCH_CHANNELS, BENCH_ROWS, benchChannel, writeWideCsv } from './wide-csv';

const ROUNDS = 5;
const READ_ROUNDS = 25;
const PIXELS = 1000;
const THREADS = Math.min(2, availableParallelism());
const NAMES = Array.from({ length: BENCH_CHANNELS }, (_, index) => benchChannel(index));
const SPEC = telemetrySpec({ channels: NAMES.map((name) => channelSpec(name)) });
const LAST_S = BENCH_ROWS * 0.0144;

/** What DuckDB does by itself: declared types, the same settings, the same threads, on the disk. */
async function convertWithDuckDb(source: string, target: string): Promise<void> {
  const instance = await DuckDBInstance.create(':memory:', { threads: String(THREADS) });
  const connection = await instance.connect();
  const columns = ['t', ...NAMES].map((name) => `'${name}': 'DOUBLE'`).join(', ');
  await connection.run(
    `COPY (SELECT * FROM read_csv('${source}', auto_detect = false, header = true, delim = ',', quote = '"', columns = {${columns}}))
     TO '${target}' (FORMAT parquet, COMPRESSION zstd, ROW_GROUP_SIZE 65536)`,
  );
  connection.closeSync();
  instance.closeSync();
  const handle = await open(target, 'r');
  await handle.sync();
  await handle.close();
}

async function importOnce(source: string, samplesRoot: string): Promise<string> {
  const outcome = await importTelemetry({
    parts: [{ name: 'telemetry.csv', file: source }],
    spec: SPEC,
    zero: ZERO,
    samplesRoot,
    threads: THREADS,
    original: 'link',
  });
  if (outcome.folder === null || outcome.report?.rows !== BENCH_ROWS || outcome.issues.length > 0) {
    throw new Error(`the import went wrong: ${JSON.stringify(outcome.issues)}`);
  }
  return outcome.folder;
}

function shown(cost: Cost | undefined): string {
  return `${cost?.wallS.toFixed(2)} s (${cost?.processorS.toFixed(2)} s of processor)`;
}

function processorRatio(ours: readonly Cost[], theirs: readonly Cost[]): string {
  const processorS = (costs: readonly Cost[]) => median(costs.map((cost) => cost.processorS));
  return (processorS(ours) / processorS(theirs)).toFixed(2);
}

async function benchImport(
  source: string,
  folder: string,
  say: (text: string) => void,
): Promise<BenchRow> {
  const ours: Cost[] = [];
  const theirs: Cost[] = [];
  const target = path.join(folder, 'converted.parquet');
  for (let round = 0; round < ROUNDS; round += 1) {
    theirs.push(await costOf(() => convertWithDuckDb(source, target)));
    await rm(target);
    const samplesRoot = path.join(folder, `import-${round}`);
    ours.push(await costOf(() => importOnce(source, samplesRoot)));
    await rm(samplesRoot, { recursive: true });
    say(`round ${round + 1}: import ${shown(ours.at(-1))}, DuckDB ${shown(theirs.at(-1))}`);
  }
  const { size } = await stat(source);
  return {
    what: `import of 36 million values (${Math.round(size / 1e6)} MB) with levels, hash, fsync`,
    unit: 's',
    measured: median(ours.map((cost) => cost.wallS)),
    reference: median(theirs.map((cost) => cost.wallS)),
    against: 'CSV to Parquet by DuckDB alone',
    must: 1.5,
    aim: 1.1,
    detail: `medians of ${ROUNDS} alternating runs, ${THREADS} threads; processor time ${processorRatio(ours, theirs)} times`,
  };
}

async function benchEnvelope(source: string, samplesRoot: string): Promise<BenchRow> {
  const folder = await importOnce(source, samplesRoot);
  const table = folderTable(samplesRoot, folder, 1);
  const envelopes: number[] = [];
  const channels: number[] = [];
  for (let round = 0; round < READ_ROUNDS; round += 1) {
    const column = benchChannel(3 + (round % (BENCH_CHANNELS - 3)));
    const sql = `SELECT coalesce("${column}", 'nan'::DOUBLE) FROM ${table}`;
    channels.push(
      await secondsOf(() =>
        withConnection(samplesRoot, (connection) => readDoubles(connection, sql, BENCH_ROWS)),
      ),
    );
    const query = { columns: [column], fromS: 0, toS: LAST_S, pixels: PIXELS };
    envelopes.push(await secondsOf(() => readEnvelope(samplesRoot, folder, query)));
  }
  return {
    what: `envelope of a channel of 1.5 million samples, ${PIXELS} pixels`,
    unit: 's',
    measured: median(envelopes),
    reference: median(channels),
    against: 'reading the channel',
    must: 0.1,
    aim: 0.05,
    detail: `medians of ${READ_ROUNDS} alternating reads`,
  };
}

export const samplesBench: Bench = {
  name: 'samples',
  run: async (say) => {
    const folder = await mkdtemp(path.join(tmpdir(), 'wakeline-bench-'));
    try {
      const source = path.join(folder, 'telemetry.csv');
      say('writing the file to import');
      writeWideCsv(source);
      // First, while the process is young: what ten imports leave behind is collected under the reads.
      say('envelopes');
      const envelope = await benchEnvelope(source, path.join(folder, 'envelope'));
      return [await benchImport(source, folder, say), envelope];
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  },
};
