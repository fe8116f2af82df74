/** Writes a job's progress to its row, at most four times a second. */
import { db } from '../db';
import { logLine } from '../log-line';
import type { JobProgress } from './import-messages';

const WRITE_EVERY_MS = 250;

export type ProgressWriter = Readonly<{
  report: (progress: JobProgress) => void;
  /** Waits for the write that is under way; nothing is written afterwards. */
  close: () => Promise<void>;
}>;

export function progressWriter(jobId: string): ProgressWriter {
  let latest: JobProgress | null = null;
  let lastMs = Number.NEGATIVE_INFINITY;
  let writing: Promise<void> | null = null;
  let timer: NodeJS.Timeout | null = null;
  let closed = false;

  const write = (): void => {
    timer = null;
    if (latest === null || closed) return;
    const progress = latest;
    latest = null;
    lastMs = performance.now();
    writing = writeProgress(jobId, progress)
      // Progress is for looking at: the work goes on without it.
      .catch((error: unknown) => logLine('progress-unwritten', { job: jobId, fault: `${error}` }))
      .finally(() => {
        writing = null;
        if (latest !== null) schedule();
      });
  };
  const schedule = (): void => {
    if (timer !== null || writing !== null || closed) return;
    const waitMs = Math.max(0, lastMs + WRITE_EVERY_MS - performance.now());
    timer = setTimeout(write, waitMs);
  };

  return {
    report: (progress) => {
      latest = progress;
      schedule();
    },
    close: async () => {
      closed = true;
      if (timer !== null) clearTimeout(timer);
      await writing;
    },
  };
}

async function writeProgress(jobId: string, progress: JobProgress): Promise<void> {
  await db().job.updateMany({
    where: { id: jobId, state: 'running' },
    data: {
      stage: progress.stage,
      bytesDone: BigInt(Math.trunc(progress.bytesDone)),
      bytesTotal: BigInt(Math.trunc(progress.bytesTotal)),
      rowsDone: BigInt(Math.trunc(progress.rowsDone)),
    },
  });
}
