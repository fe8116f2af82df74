/** Computes the state at an instant in a process of its own, so that requests are answered meanwhile. */
import { fork } from 'node:child_process';
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import { builtEntry } from '../jobs/built';
import type { PollAnswer, PollRequest } from './poll-messages';

/** Longer than the largest session within the limits takes. */
const LIMIT_MS = 60_000;

/** @returns the state; throws where the child ended early or took too long */
export async function pollInChild(request: PollRequest): Promise<PollState> {
  const child = fork(builtEntry('poll-child'), [], {
    serialization: 'advanced',
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    execArgv: ['--enable-source-maps'],
  });
  const timer = setTimeout(() => child.kill('SIGKILL'), LIMIT_MS);
  try {
    return await new Promise<PollState>((resolve, reject) => {
      child.once('message', (answer: PollAnswer) => {
        if (answer.kind === 'done') resolve(answer.state);
        else reject(new Error(answer.message));
      });
      child.once('error', reject);
      child.once('exit', (code, signalName) =>
        reject(new Error(`the poll's process ended early (${signalName ?? `code ${code}`})`)),
      );
      child.send(request);
    });
  } finally {
    clearTimeout(timer);
    child.kill('SIGKILL');
  }
}
