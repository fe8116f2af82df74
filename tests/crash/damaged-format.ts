/**
 * One damaged file of each format through its reader: an error that says why, or a result whose
 * rows add up. Nothing throws, nothing hangs, nothing half-written stays.
 */
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { readEventLog } from '@/lib/core/intake/event-log';
import { hasErrors, type Issue } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { Instant } from '@/lib/core/time/instant';
import type { TimeCode } from '@/lib/core/time/time-code';
import { listFiles } from '@/lib/server/durable-files';
import { readText } from '@/lib/server/read-text';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { unzip } from '@/lib/server/uploads/unzip';
import { damageFile, type FolderFiles } from './damage';
import { type CaseOutcome, issueProblems, leftovers } from './damaged-case';

/** Longest that one damaged file may take, ms: a whole one takes some milliseconds. */
const PATIENCE_MS = 120_000;
const TEXT = { mostBytes: 4_000_000, encoding: null, otherwise: 'refuse' } as const;

export type Answer = Readonly<{
  isRead: boolean;
  issues: readonly Issue[];
  /** Empty when the rows add up. */
  accounts: readonly string[];
}>;

export type Place = Readonly<{ folder: string; samplesRoot: string }>;

export type Format = Readonly<{
  name: string;
  whole: Buffer;
  read: (place: Place) => Promise<Answer>;
}>;

type TextReader = (text: string, fileName: string) => Omit<Answer, 'accounts'> & Partial<Answer>;

export function textFormat(name: string, whole: Buffer, read: TextReader): Format {
  return {
    name,
    whole,
    read: async ({ folder }) => {
      const found = await readText(folder, name, TEXT);
      if (found.value === null) return { isRead: false, issues: [found.issue], accounts: [] };
      return { accounts: [], ...read(found.value.text, name) };
    },
  };
}

export const answerOf = ({
  value,
  issues,
}: Readonly<{ value: unknown; issues: readonly Issue[] }>) => ({
  isRead: value !== null,
  issues,
});

/** Logs count their own seconds from zero. */
const ELAPSED = {
  columns: ['t'],
  code: 'elapsed-seconds',
  scale: 'UTC',
  from: { taiNs: 0n },
} as const;

export function logFormat(name: string, whole: string, code: TimeCode = ELAPSED.code): Format {
  const time = { ...ELAPSED, code };
  return textFormat(name, Buffer.from(whole), (text, fileName) => {
    const log = readEventLog({ text, fileName, time, zero: ELAPSED.from });
    if (log.value === null) return answerOf(log);
    const { entries, rowsRead, rowsRejected } = log.value;
    // A cue with two voices in it is one row and two entries.
    const sum = new Set(entries.map(({ line }) => line)).size + rowsRejected;
    const accounts = sum === rowsRead ? [] : [`${rowsRead} rows read, ${sum} accounted for`];
    if (entries.some(({ sourceS }) => !Number.isFinite(sourceS))) accounts.push('a time is none');
    return { ...answerOf(log), accounts };
  });
}

export function telemetryFormat(whole: Buffer, spec: TelemetrySpec, zero: Instant): Format {
  const read = async ({ folder, samplesRoot }: Place): Promise<Answer> => {
    const parts = [{ name: spec.file, file: path.join(folder, spec.file) }];
    const request = { parts, spec, zero, samplesRoot, threads: 1, original: 'leave' } as const;
    const outcome = await importTelemetry(request);
    const left = (await leftovers(samplesRoot)).map((name) => `${name} was left behind`);
    const { report, issues } = outcome;
    if (outcome.folder === null || report === null) {
      return { isRead: false, issues, accounts: left };
    }
    const { rows, rowsRead, rowsRejected, rowsOutOfOrder } = report;
    const sum = rows + rowsRejected + rowsOutOfOrder;
    if (sum !== rowsRead) left.push(`${rowsRead} rows read, ${sum} accounted for`);
    return { isRead: true, issues, accounts: left };
  };
  return { name: spec.file, whole, read };
}

/** An archive: what comes out of it is what went in, or nothing does. */
export function zipFormat(name: string, whole: Buffer, files: FolderFiles): Format {
  const read = async ({ folder }: Place): Promise<Answer> => {
    const into = path.join(folder, 'unpacked');
    const issues = await unzip({ file: path.join(folder, name), into });
    if (issues.length > 0) return { isRead: false, issues, accounts: [] };
    const names = await listFiles(into);
    const accounts: string[] = [];
    for (const each of names) {
      const bytes = await readFile(path.join(into, each));
      // A name may be damaged where nothing guards it; what the file holds is guarded by its sum.
      if ([...files.values()].every((known) => !known.equals(bytes))) {
        accounts.push(`"${each}" holds what nobody packed`);
      }
    }
    if (names.length !== files.size) accounts.push(`${names.length} of ${files.size} files came`);
    return { isRead: true, issues, accounts };
  };
  return { name, whole, read };
}

/** Runs one case in a scratch folder that is removed afterwards. A negative seed damages nothing. */
export async function runDamagedFormat(
  format: Format,
  seed: number,
  scratch: string,
): Promise<CaseOutcome> {
  const { bytes, said } = damageFile(format.whole, seed);
  const place = {
    folder: path.join(scratch, 'folder'),
    samplesRoot: path.join(scratch, 'samples'),
  };
  await mkdir(place.folder, { recursive: true });
  await writeFile(path.join(place.folder, format.name), bytes);
  const problems: string[] = [];
  let ended: CaseOutcome['ended'] = 'threw';
  const startedMs = performance.now();
  try {
    const { isRead, issues, accounts } = await format.read(place);
    ended = isRead ? 'read' : 'refused';
    if (isRead === hasErrors(issues)) problems.push(`${ended}, but its issues say otherwise`);
    problems.push(...accounts, ...issues.flatMap((issue) => issueProblems(issue, scratch)));
  } catch (error) {
    problems.push(error instanceof Error ? `threw ${error.stack}` : `threw ${error}`);
  }
  const tookMs = performance.now() - startedMs;
  if (tookMs > PATIENCE_MS) problems.push(`took ${Math.round(tookMs)} ms`);
  await rm(scratch, { recursive: true, force: true });
  return { seed, said: `${format.name}: ${said}`, ended, problems: [...new Set(problems)] };
}
