/** Runs the write path in a process group of its own, and lets it die where a test says. */
import { spawn } from 'node:child_process';
import path from 'node:path';
import { createInterface } from 'node:readline';

export type Look = Readonly<{
  step: string;
  problems: readonly string[];
  sessions: number;
  publications: number;
  state?: string;
  issues?: readonly Readonly<{ message: string }>[];
}>;

export type Run = Readonly<{
  /** `died` also when a part of the group was killed and took the rest with it. */
  ended: 'whole' | 'died' | 'failed';
  looks: readonly Look[];
  /** What the log says was mended. */
  mended: readonly string[];
  complaint: string;
  ms: number;
}>;

export type WritePathStep = 'import and publish' | 'replace' | 'describe' | 'publish';

export type RunOptions = Readonly<{
  dataDir: string;
  /** What to import and to publish; null only starts and mends. */
  folder: string | null;
  /** What is done: import and publication, or one step alone with the session that is there. */
  step?: WritePathStep;
  /** Name of a crash point. */
  crashAt?: string;
  /** Whether only the process that reaches the point dies, or all that belong together. */
  dies?: 'one process' | 'all together';
  killAfterMs?: number;
}>;

const PATIENCE_MS = 140_000;

function isLook(value: object): value is Look {
  return 'step' in value && 'problems' in value;
}

export function runWritePath(options: RunOptions): Promise<Run> {
  const {
    dataDir,
    folder,
    step = 'import and publish',
    crashAt,
    dies = 'all together',
    killAfterMs,
  } = options;
  const startedMs = performance.now();
  const only = step === 'import and publish' ? [] : [step];
  const args = folder === null ? [] : [folder, ...only];
  const child = spawn(process.execPath, [path.join('.built', 'write-path.mjs'), ...args], {
    detached: true, // a group of its own, so that all of it can be killed at once
    stdio: ['ignore', 'pipe', 'pipe'],
    env: {
      ...process.env,
      DATA_DIR: dataDir,
      WAKELINE_CRASH_AT: crashAt ?? '',
      WAKELINE_CRASH_GROUP: dies === 'all together' ? '1' : '',
    },
  });
  const looks: Look[] = [];
  const mended: string[] = [];
  let complaint = '';
  const killGroup = (): void => {
    try {
      if (child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
    } catch {
      // the group is gone already
    }
  };
  const timer = setTimeout(killGroup, killAfterMs ?? PATIENCE_MS);
  child.stderr.on('data', (data: Buffer) => {
    complaint = `${complaint}${data.toString()}`.slice(-4000);
  });
  createInterface({ input: child.stdout }).on('line', (line) => {
    if (!line.startsWith('{')) return;
    const said: unknown = JSON.parse(line);
    if (typeof said !== 'object' || said === null) return;
    if (isLook(said)) looks.push(said);
    else if ('event' in said && said.event === 'mended') mended.push(line);
  });
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', (code, signal) => {
      clearTimeout(timer);
      killGroup();
      const ended = signal === 'SIGKILL' ? 'died' : code === 0 ? 'whole' : 'failed';
      resolve({ ended, looks, mended, complaint, ms: performance.now() - startedMs });
    });
  });
}
