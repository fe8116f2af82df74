/**
 * Work in a process of its own, so that requests are answered meanwhile, its memory goes with it and
 * it can be ended at any moment. A thread cannot: the database engine of the samples takes the whole
 * program down when its thread ends while a query runs.
 */
import { fork, type Serializable } from 'node:child_process';
import { type BuiltEntry, builtEntry } from './built';
import type { Broken } from './child-answer';
import { EndedEarly } from './job-end';

export type ChildWork<Answer, Result> = Readonly<{
  /** Name of the built entry that the process runs; it answers with `answerParent`. */
  entry: BuiltEntry;
  request: Serializable;
  /** The result in an answer; null where it was only about how far the work has come. */
  take: (answer: Answer) => Result | null;
  signal: AbortSignal;
  /** Most memory of its own heap, MB; Node's own choice without it. */
  heapMb?: number;
}>;

/**
 * Throws what the child threw, `EndedEarly` when it stopped without an answer, and the signal's
 * reason when it was cancelled. The child is ended in every case.
 */
export async function runInChild<Answer extends Readonly<{ kind: string }>, Result>(
  work: ChildWork<Exclude<Answer, Broken>, Result>,
): Promise<Result> {
  const { signal } = work;
  signal.throwIfAborted();
  const heap = work.heapMb === undefined ? [] : [`--max-old-space-size=${work.heapMb}`];
  const child = fork(builtEntry(work.entry), [], {
    serialization: 'advanced',
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    execArgv: ['--enable-source-maps', ...heap],
  });
  const kill = (): boolean => child.kill('SIGKILL');
  signal.addEventListener('abort', kill, { once: true });
  try {
    return await new Promise<Result>((resolve, reject) => {
      child.on('message', (answer: Exclude<Answer, Broken> | Broken) => {
        if (isBroken(answer)) return reject(new Error(answer.message));
        const result = work.take(answer);
        if (result !== null) resolve(result);
      });
      child.once('error', reject);
      child.once('exit', (code, name) => reject(new EndedEarly(name ?? `code ${code}`)));
      child.send(work.request);
    });
  } catch (error) {
    signal.throwIfAborted();
    throw error;
  } finally {
    signal.removeEventListener('abort', kill);
    kill();
  }
}

function isBroken(answer: Readonly<{ kind: string }>): answer is Broken {
  return answer.kind === 'broken';
}
