/** One damaged folder through the reader and the reconstruction, and what is wrong with the outcome. */
import { createHash } from 'node:crypto';
import { mkdir, readdir, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { formatIssue, type Issue } from '@/lib/core/result';
import { readSessionFolder } from '@/lib/server/session-folder';
import { demoFilesOnce } from '../support/demo-folder';
import { damageFolder, type FolderFiles } from './damage';

export type CaseOutcome = Readonly<{
  seed: number;
  said: string;
  ended: 'read' | 'refused' | 'threw';
  /** Empty when all is as it should be. */
  problems: readonly string[];
}>;

/** The demo with every fiftieth row of telemetry: small, with all its parts. */
export function smallFolder(): FolderFiles {
  const files = new Map<string, Buffer>();
  for (const [name, text] of demoFilesOnce()) {
    const lines = text.split('\n');
    const kept =
      name === 'telemetry.csv'
        ? lines.filter((_, index) => index === 0 || index % 50 === 1)
        : lines;
    files.set(name, Buffer.from(name === 'telemetry.csv' ? `${kept.join('\n')}\n` : text));
  }
  return files;
}

const STACK_LINE = /^\s+at |\n\s+at |\bat .*\.(?:ts|mjs|js):\d+|node:internal/;
const PROGRAM_WORDS =
  /invariant:|\[object Object\]|\bundefined\b|TypeError|RangeError|ZodError|PrismaClient/;

/** What no line that a person reads may hold. */
export function textProblems(line: string): string[] {
  const problems: string[] = [];
  const start = line.slice(0, 300);
  if (STACK_LINE.test(line)) problems.push(`a stack trace: ${start}`);
  if (PROGRAM_WORDS.test(line)) problems.push(`a word of the program: ${start}`);
  if (line.length > 2000) problems.push(`${line.length} characters in one message: ${start}`);
  return problems;
}

/** What is wrong with an issue, as a person reads it. */
export function issueProblems(issue: Issue, scratch: string): string[] {
  const line = formatIssue(issue);
  const problems = textProblems(line);
  if (issue.message.trim() === '') problems.push(`issue ${issue.code} says nothing`);
  if (line.includes(scratch)) problems.push(`a path of this machine: ${line.slice(0, 300)}`);
  if (/[\r\n]/.test(line)) problems.push(`a line break: ${JSON.stringify(line.slice(0, 200))}`);
  return problems;
}

async function writeFolder(folder: string, files: FolderFiles): Promise<void> {
  await mkdir(folder, { recursive: true });
  for (const [name, bytes] of files) await writeFile(path.join(folder, name), bytes);
}

const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');

/**
 * Runs one case in a scratch folder that is removed afterwards.
 *
 * @returns how it ended; `problems` names whatever a person should never see
 */
export async function runDamagedCase(
  base: FolderFiles,
  seed: number,
  scratch: string,
): Promise<CaseOutcome> {
  const { files, said } = damageFolder(base, seed);
  const folder = path.join(scratch, 'folder');
  const samplesRoot = path.join(scratch, 'samples');
  await rm(scratch, { recursive: true, force: true });
  await writeFolder(folder, files);
  const problems: string[] = [];
  let ended: CaseOutcome['ended'] = 'threw';
  try {
    const read = await readSessionFolder(folder, { samplesRoot, threads: 1 });
    ended = read.input === null ? 'refused' : 'read';
    const errors = read.issues.filter(({ severity }) => severity === 'error');
    if (read.input === null && errors.length === 0) problems.push('refused without a reason');
    for (const issue of read.issues) problems.push(...issueProblems(issue, scratch));
    const left = await leftovers(samplesRoot);
    if (left.length > 0) problems.push(`left behind: ${left.join(', ')}`);
    if (read.input !== null) {
      const { reconstruction } = reconstruct(read.input, { engine: 'test', sha256 });
      const text = JSON.stringify(reconstructionFile(reconstruction));
      if (/NaN|Infinity/.test(text)) problems.push('a number that is none in the contract file');
    }
  } catch (error) {
    problems.push(
      `threw ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
    );
  }
  await rm(scratch, { recursive: true, force: true });
  return { seed, said, ended, problems: [...new Set(problems)] };
}

/** Whatever in the sample store is no finished folder. */
export async function leftovers(samplesRoot: string): Promise<string[]> {
  const names = await readdir(samplesRoot).catch(() => []);
  return names.filter((name) => name.startsWith('.') || /tmp|part/i.test(name));
}
