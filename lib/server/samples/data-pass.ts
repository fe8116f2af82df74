/**
 * The quick pass: DuckDB reads numbers as numbers, straight into data.parquet. It gives up, and the
 * text pass takes over, as soon as one cell, row or stamp did not read.
 */
import type { DuckDBConnection } from '@duckdb/node-api';
import type { KnownTurn } from '@/lib/core/time/carry-days';
import type { Instant } from '@/lib/core/time/instant';
import { makeStampReader } from '@/lib/core/time/stamp-reader';
import type { TimeSpec } from '@/lib/core/time/time-code';
import type { ColumnPlan, PlannedChannel } from './column-plan';
import { TIME_COLUMN } from './column-plan';
import { type CsvColumnType, type CsvDialect, cellName, csvScanSql } from './csv-scan';
import { readDoubles } from './double-chunks';
import { sqlDouble, sqlName, sqlText } from './sql-text';
import { stampSql } from './stamp-sql';

export type PassInput = Readonly<{
  connection: DuckDBConnection;
  /** The source, or the plain copy of it. */
  file: string;
  dataFile: string;
  dialect: CsvDialect;
  /** Names in the source's order. */
  header: readonly string[];
  plan: ColumnPlan;
  time: TimeSpec;
  zero: Instant;
  /** Stamps of lines spread over the file, to try the SQL form on. */
  stampSamples: readonly (readonly string[])[];
  metadataOf: (channels: readonly PlannedChannel[]) => string;
  hasQuote: boolean;
  /** Days known to pass between stamps that follow each other, of files that were joined. */
  turns: readonly KnownTurn[];
  /** Words that the session file states for "no sample". */
  absentWords: readonly string[];
}>;

/**
 * Same settings for every data file; `metadata` explains the file to whoever opens it alone.
 *
 * Numbers are split by byte (format version 2) and pressed lightly: as small as version 1 at the
 * usual level, with a third less to do. A dictionary pays for words, modes and counters; the search
 * for one among measured numbers costs and finds none.
 */
export function parquetOptions(metadata: string): string {
  const settings = [
    'FORMAT parquet',
    'PARQUET_VERSION V2',
    'COMPRESSION zstd',
    'COMPRESSION_LEVEL 1',
    'DICTIONARY_SIZE_LIMIT 256',
    'ROW_GROUP_SIZE 65536',
    `KV_METADATA {wakeline: ${sqlText(metadata)}}`,
  ];
  return `(${settings.join(', ')})`;
}

/** A channel's number as stored: in SI. */
export function storedNumberSql(number: string, channel: PlannedChannel): string {
  const missing = channel.missing.map(sqlDouble).join(', ');
  const sample =
    missing === '' ? number : `(CASE WHEN ${number} NOT IN (${missing}) THEN ${number} END)`;
  return channel.factor === 1 ? sample : `${sample} * ${sqlDouble(channel.factor)}`;
}

function stampIsNumber(time: TimeSpec): boolean {
  return time.code === 'elapsed-seconds';
}

function typesOf(plan: ColumnPlan, time: TimeSpec): CsvColumnType[] {
  const types: CsvColumnType[] = Array.from({ length: plan.columnCount }, () => 'DOUBLE');
  for (const text of plan.texts) types[text.index] = 'VARCHAR';
  if (!stampIsNumber(time)) for (const index of plan.stamps) types[index] = 'VARCHAR';
  return types;
}

/** The stamp in SQL, once it has given the core's own answer on every sample; else null. */
export async function provenStampSql(input: PassInput): Promise<string | null> {
  const [first] = input.stampSamples;
  if (first === undefined) return null;
  const cells = input.plan.stamps.map((index) => sqlName(cellName(index)));
  const sql = stampSql(cells, input.time, input.zero, first);
  if (sql === null) return null;
  const type = stampIsNumber(input.time) ? 'DOUBLE' : 'VARCHAR';
  const decimalComma = stampIsNumber(input.time) && input.dialect.decimal === ',';
  const point = (text: string) => (decimalComma ? text.replace(',', '.') : text);
  const values = input.stampSamples
    .map((texts) => `(${texts.map((text) => `TRY_CAST(${sqlText(point(text))} AS ${type})`)})`)
    .join(', ');
  const [answers] = await readDoubles(
    input.connection,
    `SELECT coalesce(${sql}, 'nan'::DOUBLE) FROM (VALUES ${values}) AS samples(${cells})`,
    input.stampSamples.length,
  );
  const read = makeStampReader(input.time, input.zero);
  const agrees = input.stampSamples.every((texts, row) => {
    const wanted = read(point(texts[0] ?? ''), texts[1]);
    const got = answers?.[row] ?? Number.NaN;
    // More than nine decimals: the core rounds to the nanosecond, the double keeps them.
    return wanted === got || (stampIsNumber(input.time) && Math.abs(wanted - got) <= 1e-9);
  });
  return agrees ? sql : null;
}

/** NaN and infinite numbers by channel: read from the source, since the data file has them no more. */
async function countNotFinite(
  input: PassInput,
  types: readonly CsvColumnType[],
): Promise<number[]> {
  const scan = csvScanSql({ ...input, types, rejectsTable: 'count_rejects' });
  const counts = input.plan.channels.map(
    (channel) =>
      `CAST(count(*) FILTER (WHERE NOT isfinite(${sqlName(cellName(channel.index))})) AS DOUBLE)`,
  );
  if (counts.length === 0) return [];
  const columns = await readDoubles(input.connection, `SELECT ${counts} FROM ${scan}`, 1);
  return columns.map((column) => column[0] ?? 0);
}

/** `guarded`: numbers are looked at one by one and what is not finite becomes NULL. */
export type PassCare = 'plain' | 'guarded';

export type TypedPass = Readonly<{ tS: Float64Array; notFinite: readonly number[] }>;

/** @returns null when the text pass has to do it */
export async function runTypedPass(input: PassInput, care: PassCare): Promise<TypedPass | null> {
  const { connection, plan } = input;
  const stamp = await provenStampSql(input);
  if (stamp === null) return null;
  const types = typesOf(plan, input.time);
  const rejectsTable = `typed_rejects_${care}`;
  const scan = csvScanSql({ ...input, types, rejectsTable });
  const channels = plan.channels.map((channel) => {
    const cell = sqlName(cellName(channel.index));
    const number = storedNumberSql(cell, channel);
    const sql = care === 'plain' ? number : `CASE WHEN isfinite(${number}) THEN ${number} END`;
    return `${sql} AS ${sqlName(channel.stored)}`;
  });
  const texts = plan.texts.map(
    (text) => `${sqlName(cellName(text.index))} AS ${sqlName(text.stored)}`,
  );
  const columns = [`${stamp} AS ${TIME_COLUMN}`, ...channels, ...texts].join(', ');
  await connection.run(
    `COPY (SELECT ${columns} FROM ${scan}) TO ${sqlText(input.dataFile)} ${parquetOptions(input.metadataOf(plan.channels))}`,
  );
  const [rejects] = await readDoubles(
    connection,
    `SELECT CAST(count(*) AS DOUBLE) FROM ${rejectsTable}`,
    1,
  );
  if (rejects?.[0] !== 0) return null;
  const tS = await readStamps(connection, input.dataFile);
  if (tS.some((stampS) => !Number.isFinite(stampS))) return null;
  const notFinite =
    care === 'plain' ? plan.channels.map(() => 0) : await countNotFinite(input, types);
  return { tS, notFinite };
}

/** The stamps of a data file, NaN where it has none. */
export async function readStamps(
  connection: DuckDBConnection,
  dataFile: string,
): Promise<Float64Array> {
  const [tS] = await readDoubles(
    connection,
    `SELECT coalesce(${TIME_COLUMN}, 'nan'::DOUBLE) FROM read_parquet(${sqlText(dataFile)})`,
    1 << 16,
  );
  return tS ?? new Float64Array(0);
}
