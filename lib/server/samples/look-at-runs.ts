/** Simulator runs before they are read: hashes, heads, and which of them are written alike. */
import { createHash } from 'node:crypto';
import { detectDialect } from '@/lib/core/intake/dialect';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { isSystemError } from './durable-files';
import { isPlain } from './plain-copy';
import { readHead, type SourceHead } from './source-head';
import { type SourceScan, scanSource } from './source-scan';
import { textForm } from './text-form';
import type { SourcePart } from './unpack-source';

/**
 * `head` is null for a run that only the reader of single sources can open. `spec` describes the run's
 * own columns: a simulator need not write every channel that was measured.
 */
export type LookedRun = SourcePart &
  Readonly<{ scan: SourceScan; head: SourceHead | null; spec: TelemetrySpec }>;

/** A run that cannot be read is left out and named; the others still count. */
export type LookedRuns = Readonly<{ runs: readonly LookedRun[]; issues: readonly Issue[] }>;

/** The issue of a run that is left out: what stood in the way, as a warning. */
export function runLeftOut(name: string, fault: Issue | undefined): Issue {
  const message = fault?.message ?? 'it cannot be read';
  return {
    ...fault,
    code: fault?.code ?? 'run-unreadable',
    severity: 'warning',
    file: name,
    message: `this simulator run is left out: ${message}`,
  };
}

/** One form for all: delimited UTF-8 text without quotes, so that all can be read in one go. */
function isSimple({ scan }: Readonly<{ scan: SourceScan }>, head: SourceHead): boolean {
  return isPlain(scan, head) && !scan.hasQuote && !scan.hasLetterN;
}

/** The description without the channels that the run's header lacks; as it is where it has none of them. */
function ownChannels(spec: TelemetrySpec, scan: SourceScan): TelemetrySpec {
  const text = new TextDecoder(spec.dialect.encoding ?? 'utf-8').decode(scan.head);
  const header = new Set(detectDialect(text, spec.dialect).value?.columns ?? []);
  const channels = spec.channels.filter(({ column }) => header.has(column));
  return channels.length === 0 ? spec : { ...spec, channels };
}

/** Scans each run and reads its head. */
export async function lookAtRuns(
  parts: readonly SourcePart[],
  spec: TelemetrySpec,
  hooks: Readonly<{ signal: AbortSignal | undefined; onBytes: (bytes: number) => void }>,
): Promise<LookedRuns> {
  const runs: LookedRun[] = [];
  const issues: Issue[] = [];
  let bytes = 0;
  for (const part of parts) {
    hooks.signal?.throwIfAborted();
    try {
      const scan = await scanSource(part.file, { signal: hooks.signal });
      bytes += scan.bytes;
      hooks.onBytes(bytes);
      if (spec.layout === 'long' || textForm(scan.start) !== 'delimited') {
        runs.push({ ...part, scan, head: null, spec: { ...spec, file: part.name } });
        continue;
      }
      const own = ownChannels({ ...spec, file: part.name }, scan);
      const read = readHead(own, { ...scan, units: null });
      if (read.head === null || hasErrors(read.issues)) {
        issues.push(
          runLeftOut(
            part.name,
            read.issues.find(({ severity }) => severity === 'error'),
          ),
        );
        continue;
      }
      const head = isSimple({ scan }, read.head) ? read.head : null;
      runs.push({ ...part, scan, head, spec: own });
    } catch (error) {
      if (!isSystemError(error, ['ENOENT', 'ENOTDIR', 'EACCES'])) throw error;
      issues.push(runLeftOut(part.name, undefined));
    }
  }
  return { runs, issues };
}

/** SHA-256 over names and hashes of the runs. */
export function hashOfRuns(runs: readonly LookedRun[]): string {
  const hash = createHash('sha256');
  for (const { name, scan } of runs) hash.update(`${scan.sha256}  ${name}\n`);
  return hash.digest('hex');
}

/** True where two heads describe the same columns, written in the same way. */
export function areAlike(a: SourceHead, b: SourceHead): boolean {
  const keyOf = ({ dialect, spec }: SourceHead): string =>
    JSON.stringify([
      dialect.columns,
      dialect.separator,
      dialect.decimal,
      dialect.quote,
      dialect.rowsAfterLine,
      spec.channels.map(({ column, unit }) => [column, unit]),
    ]);
  return keyOf(a) === keyOf(b);
}
