/**
 * Computes a reconstruction in a process of its own, so that requests are answered meanwhile and it
 * can be ended at any moment. A thread cannot: the database engine of the samples takes the whole
 * program down when its thread ends while a query runs.
 */
import { fork } from 'node:child_process';
import { samplesRoot } from '../data-folders';
import { builtEntry, currentEngine } from './built';
import { EndedEarly } from './job-end';
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
  /** Empty where there are no simulator runs. */
  runsFolder: string;
}>;

export type ReconstructAnswer =
  | Readonly<{ kind: 'done'; reconstructed: ReconstructedMessage }>
  | Readonly<{ kind: 'broken'; message: string }>;

/** Throws what the child threw, and the signal's reason when it was cancelled. */
export async function reconstructInChild(
  stored: StoredInput,
  signal: AbortSignal,
): Promise<ReconstructedMessage> {
  signal.throwIfAborted();
  const request: ReconstructRequest = {
    stored,
    samplesRoot: samplesRoot(),
    engine: currentEngine(),
  };
  const child = fork(builtEntry('reconstruct-child'), [], {
    serialization: 'advanced',
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    execArgv: ['--enable-source-maps'],
  });
  const kill = (): boolean => child.kill('SIGKILL');
  signal.addEventListener('abort', kill, { once: true });
  try {
    return await new Promise<ReconstructedMessage>((resolve, reject) => {
      child.once('message', (answer: ReconstructAnswer) => {
        if (answer.kind === 'done') resolve(answer.reconstructed);
        else reject(new Error(answer.message));
      });
      child.once('error', reject);
      child.once('exit', (code, signalName) =>
        reject(new EndedEarly(signalName ?? `code ${code}`)),
      );
      child.send(request);
    });
  } catch (error) {
    signal.throwIfAborted();
    throw error;
  } finally {
    signal.removeEventListener('abort', kill);
    kill();
  }
}
