/** The contents of a sample folder, but for its manifest, in a temporary place. */
import { readdir, rm } from 'node:fs/promises';
import path from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import type { Dialect } from '@/lib/core/intake/dialect';
import { hasErrors, type Issue, invariant } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { type DayResolution, dayResolution as readDayResolution } from '@/lib/core/time/day-count';
import type { Instant } from '@/lib/core/time/instant';
import { type DateOrder, isDayCode } from '@/lib/core/time/time-code';
import { type ColumnPlan, missingWords, type PlannedChannel, planColumns } from './column-plan';
import type { PassCare, PassInput } from './data-pass';
import type { DataResult } from './data-result';
import { readDateOrder } from './date-order';
import { withImportEngine } from './engine';
import { backwardsIssue, checkResult, rowCutIssue } from './import-issues';
import { type ImportProgress, type Watch, watched } from './import-watch';
import { type Extent, levelFile, writeLevels } from './level-files';
import { placeLines } from './line-places';
import { checkLongHeader, importLong, type LongResult } from './long-source';
import { isCutCharacter, isPlain, plainDialect, writePlainCopy } from './plain-copy';
import { quoteIssues } from './quote-issues';
import { writeRejects } from './reject-file';
import { IMPORTER_VERSION, LEVEL_ROWS, type SampleFile } from './sample-manifest';
import { DATA_FILE, REJECTS_FILE, sealFile } from './seal-folder';
import { sentinelIssues } from './sentinels';
import type { SourceHead } from './source-head';
import { type SourceScan, scanSource } from './source-scan';
import { sampleStamps } from './stamp-samples';
import { findTextColumns } from './text-columns';
import type { SourcePart, TextSource } from './unpack-source';
import { importWide } from './wide-source';

export type ImportRequest = Readonly<{
  /** The files of the source, one or more. */
  parts: readonly SourcePart[];
  spec: TelemetrySpec;
  zero: Instant;
  samplesRoot: string;
  threads?: number;
  /** How the original gets into the folder: a copy (default), a hard link, or not at all. */
  original?: 'copy' | 'link' | 'leave';
  onProgress?: (progress: ImportProgress) => void;
  signal?: AbortSignal;
}>;

const DEFAULT_THREADS = 2;

function keyedMetadata(
  request: ImportRequest,
  sha256: string,
  channels: readonly PlannedChannel[],
): string {
  return JSON.stringify({
    format: 'wakeline/samples/1',
    importer: IMPORTER_VERSION,
    source: { file: request.spec.file, sha256 },
    time: { column: 't', unit: 's', from: 'session zero, on the source clock' },
    zeroTaiNs: String(request.zero.taiNs),
    channels: channels.map(({ stored, name, as, unit }) => ({
      column: stored,
      name,
      as,
      unit,
    })),
  });
}

function filledLinesOfHead(scan: SourceScan, rowsAfterLine: number): number {
  const lines = scan.head.toString('latin1').split('\n').slice(0, rowsAfterLine);
  return lines.filter((line) => line.replace(/\r$/, '') !== '').length;
}

export type Filled = Readonly<{
  plan: ColumnPlan;
  data: DataResult;
  extent: Extent;
  files: readonly SampleFile[];
  /** Order found in the dates; null where it was stated, or none end in the year. */
  dateOrder: DateOrder | null;
  /** How finely stamps that count days are written; null for other codes. */
  dayResolution: DayResolution | null;
}>;

/** What is known of the columns before the rows are read; null where the header lacks some. */
async function planSource(
  connection: DuckDBConnection,
  file: string,
  dialect: Dialect,
  spec: TelemetrySpec,
  issues: Issue[],
): Promise<ColumnPlan | null> {
  const header = dialect.columns;
  if (spec.layout === 'long') {
    issues.push(...checkLongHeader(header, spec));
    const stamps = spec.time.columns.map((name) => header.indexOf(name));
    const plan = { columnCount: header.length, stamps, channels: [], texts: [] };
    return hasErrors(issues) ? null : plan;
  }
  const texts = await findTextColumns(connection, file, dialect, spec);
  const planned = planColumns(header, spec, texts);
  issues.push(...planned.issues);
  return hasErrors(issues) ? null : planned.plan;
}

async function readRows(
  input: PassInput,
  spec: TelemetrySpec,
  care: PassCare,
): Promise<LongResult> {
  if (spec.layout === 'long') return importLong(input, spec);
  return { plan: input.plan, data: await importWide(input, care), issues: [] };
}

/** What an import has found out before the rows are read. */
export type Prepared = Readonly<{
  source: TextSource;
  head: SourceHead;
  /** SHA-256 of the source as it came. */
  sha256: string;
  temporary: string;
}>;

/** The text that DuckDB reads: the source itself, or a plain copy of it in the folder. */
async function plainText({ source, head, temporary }: Prepared, signal: AbortSignal | undefined) {
  const file = path.resolve(source.file);
  if (isPlain(source.scan, head)) return { file, scan: source.scan, dialect: head.dialect };
  const copy = path.join(temporary, 'plain.csv');
  await writePlainCopy(file, copy, { ...head, scanned: source.scan, signal });
  const scan = await scanSource(copy, { signal });
  return { file: copy, scan, dialect: plainDialect(head.dialect) };
}

/** One filling of a folder: what is read, by what, and who is told. */
type Filling = Readonly<{
  connection: DuckDBConnection;
  request: ImportRequest;
  prepared: Prepared;
  plain: Readonly<{ file: string; scan: SourceScan; dialect: Dialect }>;
  watch: Watch;
  issues: Issue[];
}>;

function passInputOf(
  { connection, request, prepared, plain }: Filling,
  plan: ColumnPlan,
): PassInput {
  const { spec } = prepared.head;
  const { dialect } = plain;
  return {
    connection,
    file: plain.file,
    dataFile: path.join(prepared.temporary, DATA_FILE),
    dialect,
    header: dialect.columns,
    plan,
    time: spec.time,
    absentWords: missingWords(spec),
    zero: request.zero,
    turns: prepared.source.turns ?? [],
    stampSamples: sampleStamps(plain.scan, dialect, plan),
    metadataOf: (channels) => keyedMetadata(request, prepared.sha256, channels),
    hasQuote: plain.scan.hasQuote,
  };
}

/** The rows, read and checked; null where an issue stands in the way. */
async function readChecked(filling: Filling, input: PassInput): Promise<LongResult | null> {
  const { connection, prepared, plain, watch, issues } = filling;
  const { spec } = prepared.head;
  const { scan, places } = prepared.source;
  watch.enter('data');
  const onShare = (share: number) => watch.tell(Math.round(share * scan.bytes), null);
  const rows = await watched(connection, onShare, () =>
    readRows(input, spec, plain.scan.hasLetterN ? 'guarded' : 'plain'),
  );
  issues.push(...rows.issues);
  watch.enter('check');
  if (hasErrors(issues)) return null;
  const { hasQuote, filledLines } = plain.scan;
  const filled = filledLines - filledLinesOfHead(plain.scan, plain.dialect.rowsAfterLine);
  const data = placeLines(rows.data, places);
  const { separator } = plain.dialect;
  const inQuote = hasQuote ? quoteIssues(spec.file, data, { filledLines: filled, separator }) : [];
  issues.push(...inQuote);
  // What else is wrong follows from a quote that took the rows.
  if (hasErrors(inQuote)) return null;
  issues.push(...checkResult(spec, rows.plan, data, hasQuote ? null : filled));
  if (data.isBackwards) issues.push(backwardsIssue(spec.file));
  return hasErrors(issues) ? null : { ...rows, data };
}

type Levelled = Readonly<{ data: DataResult; extent: Extent; sealed: SampleFile }>;

/** The data file sealed and its levels written; read again where a number was too large. */
async function levelAndSeal(
  { prepared, watch }: Filling,
  input: PassInput,
  levels: Parameters<typeof writeLevels>[0],
  rows: DataResult,
): Promise<Levelled> {
  const { temporary, source, head } = prepared;
  watch.enter('levels');
  watch.tell(source.scan.bytes, rows.rows);
  // The disk takes the data while the processor makes the levels.
  const seal = () => sealFile(temporary, DATA_FILE, 'samples:data-written');
  let data = rows;
  let [sealed, extent] = await Promise.all([seal(), writeLevels(levels, data.rows)]);
  if (extent.channels.some(({ min, max }) => !isFiniteOrNull(min) || !isFiniteOrNull(max))) {
    // A number too large for a double came in as infinite.
    const guarded = await readRows(input, head.spec, 'guarded');
    data = placeLines(guarded.data, source.places);
    [sealed, extent] = await Promise.all([seal(), writeLevels(levels, data.rows)]);
  }
  invariant(extent.rows === data.rows, 'rows of the data file and of its levels differ');
  return { data, extent, sealed };
}

/** What only the reading needed goes; the levels and the list of rejects are sealed. */
async function sealRest(temporary: string, { data, sealed }: Levelled): Promise<SampleFile[]> {
  for (const text of await readdir(temporary)) {
    if (text.endsWith('.csv') && !text.startsWith('original')) await rm(path.join(temporary, text));
  }
  await rm(path.join(temporary, 'spill'), { recursive: true, force: true });
  const files = [sealed];
  for (const level of LEVEL_ROWS) {
    files.push(await sealFile(temporary, levelFile(level), 'samples:levels-written'));
  }
  if (data.rejects.length > 0) {
    files.push(await sealFile(temporary, REJECTS_FILE, 'samples:levels-written'));
  }
  return files;
}

async function fill(filling: Filling): Promise<Filled | null> {
  const { connection, prepared, plain, watch, issues } = filling;
  const { temporary, head } = prepared;
  const base = await planSource(connection, plain.file, plain.dialect, head.spec, issues);
  if (base === null) return null;
  const unordered = passInputOf(filling, base);
  const { order: dateOrder, issue } = await readDateOrder(unordered, head.spec.file);
  if (issue !== null) {
    issues.push(issue);
    return null;
  }
  const input =
    dateOrder === null ? unordered : { ...unordered, time: { ...unordered.time, dateOrder } };
  const rows = await readChecked(filling, input);
  if (rows === null) return null;
  const { plan } = rows;
  const stored = plan.channels.map((channel) => channel.stored);
  const levels = { connection, folder: temporary, dataFile: input.dataFile, stored };
  const levelled = await levelAndSeal(filling, input, levels, rows.data);
  const { data, extent } = levelled;
  if (data.rejects.length > 0) {
    await writeRejects(connection, path.join(temporary, REJECTS_FILE), data.rejects);
  }
  watch.enter('seal');
  issues.push(...(await sentinelIssues(levels, { plan, extent, file: head.spec.file })));
  const dayResolution = isDayCode(input.time.code)
    ? readDayResolution(input.stampSamples.map(([stamp = '']) => stamp))
    : null;
  const files = await sealRest(temporary, levelled);
  return { plan, data, extent, dateOrder, dayResolution, files };
}

/** Everything inside the temporary folder but the manifest and the originals. */
export async function fillFolder(
  request: ImportRequest,
  prepared: Prepared,
  watch: Watch,
  issues: Issue[],
): Promise<Filled | null> {
  const plain = await plainText(prepared, request.signal);
  const engine = {
    threads: request.threads ?? DEFAULT_THREADS,
    folder: prepared.temporary,
    sourceFile: plain.file,
    signal: request.signal,
  };
  try {
    return await withImportEngine(engine, (connection) =>
      fill({ connection, request, prepared, plain, watch, issues }),
    );
  } catch (error) {
    if (!isCutCharacter(error)) throw error;
    issues.push(rowCutIssue(prepared.head.spec.file));
    return null;
  }
}

function isFiniteOrNull(value: number | null): boolean {
  return value === null || Number.isFinite(value);
}
