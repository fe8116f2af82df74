/** One Parquet file with a column that names the run, to one delimited text a run. */
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import path from 'node:path';
import { createInterface } from 'node:readline';
import type { Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { withImportEngine } from './engine';
import { sqlName, sqlText } from './sql-text';
import { parquetCellSql, parquetColumns } from './unpack-parquet';
import type { SourcePart } from './unpack-source';

export type SplitRequest = Readonly<{
  spec: TelemetrySpec;
  /** The column that names the run. */
  runColumn: string;
  /** Where the texts go; it exists. */
  folder: string;
  signal: AbortSignal | undefined;
}>;

export type SplitRuns = Readonly<{ parts: readonly SourcePart[]; issues: readonly Issue[] }>;

/** Stamps and described channels: what a run is read from. Other columns could hold any text. */
function wantedColumns({ time, channels }: TelemetrySpec): ReadonlySet<string> {
  return new Set([...time.columns, ...channels.map(({ column }) => column)]);
}

/** All rows in the order of runs, then of the file; a row's run stands first. */
async function writeAllRows(
  part: SourcePart,
  { spec, runColumn, folder, signal }: SplitRequest,
  target: string,
): Promise<string | null> {
  const engine = { folder, threads: 2, sourceFile: part.file, signal };
  return withImportEngine(engine, async (connection) => {
    const table = `read_parquet(${sqlText(part.file)}, file_row_number = true)`;
    const columns = await parquetColumns(connection, table);
    if (columns === null) return 'is a Parquet file that cannot be opened; it may be damaged';
    const run = columns.find(({ name }) => name === runColumn);
    if (run === undefined) return `has no column "${runColumn}" that tells its runs apart`;
    const wanted = wantedColumns(spec);
    const cells = columns
      .filter(({ name }) => wanted.has(name) && name !== runColumn)
      .map((each) => `${parquetCellSql(each)} AS ${sqlName(each.name)}`);
    const label = `regexp_replace(CAST(${sqlName(runColumn)} AS VARCHAR), '[,"\\r\\n]', ' ', 'g')`;
    await connection.run(
      `COPY (SELECT ${[label, ...cells].join(', ')} FROM ${table}
             WHERE ${sqlName(runColumn)} IS NOT NULL
             ORDER BY ${sqlName(runColumn)}, file_row_number)
       TO ${sqlText(target)} (FORMAT csv, HEADER true)`,
    );
    return null;
  });
}

/** Cuts the text where the run changes; each piece begins with the line of names. */
async function cutAtRuns(part: SourcePart, text: string, folder: string) {
  const parts: SourcePart[] = [];
  const lines = createInterface({ input: createReadStream(text), crlfDelay: Infinity });
  let header: string | null = null;
  let run: string | null = null;
  let rows: string[] = [];
  const close = async (): Promise<void> => {
    if (run === null) return;
    const file = path.join(folder, `part-${parts.length}.csv`);
    const handle = await open(file, 'wx');
    try {
      await handle.writeFile(`${header}\n${rows.join('\n')}\n`);
    } finally {
      await handle.close();
    }
    parts.push({ name: `${part.name}, run ${run}`, file });
    rows = [];
  };
  for await (const line of lines) {
    const cut = line.startsWith('"') ? line.indexOf('",') + 1 : line.indexOf(',');
    const rest = line.slice(cut + 1);
    if (header === null) {
      header = rest;
      continue;
    }
    const label = line.slice(0, cut).replaceAll('"', '');
    if (label !== run) {
      await close();
      run = label;
    }
    rows.push(rest);
  }
  await close();
  return parts;
}

/** @returns one part a run, named after the file and the run; an issue where the file is none of this kind */
export async function splitRuns(part: SourcePart, request: SplitRequest): Promise<SplitRuns> {
  const text = path.join(request.folder, 'all-runs.csv');
  const fault = await writeAllRows(part, request, text);
  if (fault === null) return { parts: await cutAtRuns(part, text, request.folder), issues: [] };
  const issue: Issue = {
    code: 'run-unreadable',
    severity: 'warning',
    file: part.name,
    message: fault,
    expected: `a Parquet file with a column "${request.runColumn}"`,
  };
  return { parts: [], issues: [issue] };
}
