/** Computes a reconstruction in a worker thread, so that requests are answered meanwhile. */
import { Worker } from 'node:worker_threads';
import { samplesRoot } from '../data-folders';
import { builtEntry, currentEngine } from './built';
import type { StoredInput } from './stored-input';

export type ReconstructRequest = Readonly<{
  stored: StoredInput;
  samplesRoot: string;
  engine: string;
}>;

export type ReconstructedMessage = Readonly<{
  engine: string;
  inputsSha256: string;
  /** The reconstruction as JSON. */
  body: string;
  derivedFolder: string;
}>;

/** Throws what the worker threw, and the signal's reason when it was cancelled. */
export async function reconstructInWorker(
  stored: StoredInput,
  signal: AbortSignal,
): Promise<ReconstructedMessage> {
  signal.throwIfAborted();
  const workerData: ReconstructRequest = {
    stored,
    samplesRoot: samplesRoot(),
    engine: currentEngine(),
  };
  const worker = new Worker(builtEntry('reconstruct-worker'), { workerData });
  const stop = (): void => {
    void worker.terminate();
  };
  signal.addEventListener('abort', stop, { once: true });
  try {
    return await new Promise<ReconstructedMessage>((resolve, reject) => {
      worker.once('message', resolve);
      worker.once('error', reject);
      worker.once('exit', (code) => reject(new Error(`the worker ended early (code ${code})`)));
    });
  } catch (error) {
    signal.throwIfAborted();
    throw error;
  } finally {
    signal.removeEventListener('abort', stop);
    await worker.terminate();
  }
}
