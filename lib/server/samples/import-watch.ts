/** What an import says of itself while it runs: stage, bytes, rows, seconds. */
import type { DuckDBConnection } from '@duckdb/node-api';

export type ImportStage = 'hash' | 'head' | 'data' | 'check' | 'levels' | 'seal';

/** `rowsDone` is null while rows are not counted yet. */
export type ImportProgress = Readonly<{
  stage: ImportStage;
  bytesDone: number;
  bytesTotal: number;
  rowsDone: number | null;
}>;

const PROGRESS_MS = 200;

/** Who listens, and what stops it. */
export type WatchHooks = Readonly<{
  onProgress?: (progress: ImportProgress) => void;
  signal?: AbortSignal;
}>;

export type Watch = Readonly<{
  seconds: Record<string, number>;
  enter: (stage: ImportStage) => void;
  tell: (bytesDone: number, rowsDone: number | null) => void;
  leave: () => void;
}>;

/** Seconds of each stage, and its progress to whoever listens. */
export function startWatch(hooks: WatchHooks, bytesTotal: number): Watch {
  const seconds: Record<string, number> = {};
  let stage: ImportStage = 'hash';
  let since = performance.now();
  const tell = (bytesDone: number, rowsDone: number | null) =>
    hooks.onProgress?.({ stage, bytesDone, bytesTotal, rowsDone });
  const leave = () => {
    const now = performance.now();
    seconds[stage] = Math.round(((seconds[stage] ?? 0) * 1000 + now - since) * 10) / 10_000;
    since = now;
  };
  return {
    seconds,
    tell,
    leave,
    enter: (next) => {
      hooks.signal?.throwIfAborted();
      leave();
      stage = next;
      tell(next === 'head' || next === 'data' ? 0 : bytesTotal, null);
    },
  };
}

/** Polls DuckDB's own estimate of how far a statement is. */
export async function watched<T>(
  connection: DuckDBConnection,
  onShare: (share: number) => void,
  work: () => Promise<T>,
): Promise<T> {
  const timer = setInterval(() => {
    const { percentage } = connection.progress;
    if (percentage > 0) onShare(Math.min(1, percentage / 100));
  }, PROGRESS_MS);
  try {
    return await work();
  } finally {
    clearInterval(timer);
  }
}
