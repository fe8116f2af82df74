/** The debrief command: a session folder to reconstruction.json and debrief.html. */
import { createHash } from 'node:crypto';
import { rmSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import path from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { renderQuickDebrief } from '@/lib/core/debrief/quick-debrief';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import { explainFigure, listFigures } from '@/lib/core/reconstruction/list-figures';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { stateAtPoll } from '@/lib/core/reconstruction/state-at-poll';
import { formatIssue, plainLine } from '@/lib/core/result';
import type { SessionInput } from '@/lib/core/session/session-input';
import { readEnv } from '@/lib/server/env';
import { adoptLeapList } from '@/lib/server/leap-list';
import type { ImportProgress } from '@/lib/server/samples/import-watch';
import { readSessionFolder } from '@/lib/server/session-folder';
import { type DebriefArguments, readArguments, USAGE } from './debrief-arguments';
import { engineVersion } from './engine-version';
import { makeStore } from './run-store';
import { summaryLines } from './summary-text';
import { writeTogether } from './write-together';

const BAD_INPUT = 2;
const STOPPED = 130;
const STAGES: Readonly<Record<ImportProgress['stage'], string>> = {
  hash: 'checking',
  head: 'reading the head of',
  data: 'reading',
  check: 'checking the rows of',
  levels: 'writing levels of',
  seal: 'sealing',
};

/** Paths are meant from where the command was typed, which npm tells. */
function fromCaller(place: string): string {
  return path.resolve(process.env.INIT_CWD ?? process.cwd(), place);
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

function showProgress({ stage, file, bytesDone, bytesTotal }: ImportProgress & { file: string }) {
  if (!process.stderr.isTTY) return;
  const share = bytesTotal === 0 ? 100 : Math.floor((100 * bytesDone) / bytesTotal);
  process.stderr.write(`\r\u001b[K${STAGES[stage]} ${file} ${share} %`);
}

function clearProgress(): void {
  if (process.stderr.isTTY) process.stderr.write('\r\u001b[K');
}

type Reading = Readonly<{ input: SessionInput | null; warnings: readonly string[] }>;

/** Reads the folder with a sample store of its own, which goes again. */
async function readFolder(folder: string, signal: AbortSignal): Promise<Reading> {
  const samplesRoot = makeStore();
  if (samplesRoot === null) return { input: null, warnings: [] };
  const remove = () => rmSync(samplesRoot, { recursive: true, force: true });
  process.once('exit', remove);
  try {
    const read = await readSessionFolder(folder, {
      samplesRoot,
      signal,
      threads: availableParallelism(),
      original: 'leave',
      onProgress: showProgress,
    });
    clearProgress();
    const errors = read.issues.filter((issue) => issue.severity === 'error');
    for (const issue of errors) console.error(formatIssue(issue));
    const warnings = read.issues
      .filter((issue) => issue.severity !== 'error')
      .map((issue) => `${issue.severity}: ${formatIssue(issue)}`);
    return { input: read.input, warnings };
  } finally {
    remove();
    process.off('exit', remove);
  }
}

async function run(given: DebriefArguments, signal: AbortSignal): Promise<number> {
  const leapList = adoptLeapList(readEnv(process.env).env.dataDir);
  if (leapList?.isUsed === false) console.error(plainLine(leapList.sentence));
  const { input, warnings } = await readFolder(fromCaller(given.folder), signal);
  if (input === null) return BAD_INPUT;
  const { reconstruction, derived } = reconstruct(input, { engine: engineVersion(), sha256 });
  if (given.explain !== null && !listFigures(reconstruction).has(given.explain)) {
    console.error(plainLine(explainFigure(reconstruction, given.explain)));
    return BAD_INPUT;
  }
  const { crewQuestions } = input;
  const stateAt = (atS: number) => stateAtPoll(input, atS);
  const files = new Map([
    ['reconstruction.json', `${JSON.stringify(reconstructionFile(reconstruction), null, 2)}\n`],
    ['debrief.html', renderQuickDebrief(reconstruction, derived, { crewQuestions, stateAt })],
  ]);
  // A signal that came while numbers were worked out is heard now, before anything is written.
  await setImmediate();
  signal.throwIfAborted();
  if (given.out !== null) {
    const out = fromCaller(given.out);
    try {
      await writeTogether(out, files);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      console.error(`${given.out}: cannot be written to: ${reason}`);
      return BAD_INPUT;
    }
  }
  if (given.explain !== null) {
    console.log(explainFigure(reconstruction, given.explain));
    return 0;
  }
  const said = leapList?.isUsed === true ? [`note: ${leapList.sentence}`] : [];
  for (const line of [...said, ...warnings, ...summaryLines(reconstruction)])
    console.log(plainLine(line));
  for (const name of files.keys()) console.log(`wrote ${path.join(given.out ?? '', name)}`);
  return 0;
}

async function main(): Promise<number> {
  const read = readArguments(process.argv.slice(2));
  if (read.kind === 'help') {
    console.log(USAGE);
    return 0;
  }
  if (read.kind === 'wrong') {
    for (const problem of read.problems) console.error(problem);
    console.error('--help tells how it is used');
    return BAD_INPUT;
  }
  const stop = new AbortController();
  for (const name of ['SIGINT', 'SIGTERM'] as const) {
    process.on(name, () => {
      if (stop.signal.aborted) process.exit(STOPPED);
      stop.abort();
    });
  }
  try {
    return await run(read.given, stop.signal);
  } catch (error) {
    clearProgress();
    if (stop.signal.aborted) {
      console.error('stopped; nothing was written');
      return STOPPED;
    }
    const reason = error instanceof Error ? error.message : String(error);
    console.error(`the command failed on an error of its own, not of the folder: ${reason}`);
    return 1;
  }
}

process.exitCode = await main();
