/** Renders in a process of its own, so that requests are answered meanwhile and its memory goes. */
import { fork } from 'node:child_process';
import { builtEntry } from '../jobs/built';
import type { PublishAnswer, PublishRequest } from './publish-messages';

/** Longer than any document within the limits takes. */
const LIMIT_MS = 120_000;

/** @returns the child's answer; throws where it ended early or took too long */
export async function renderInChild(request: PublishRequest): Promise<PublishAnswer> {
  const child = fork(builtEntry('publish-child'), [], {
    serialization: 'advanced',
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    execArgv: ['--enable-source-maps', '--max-old-space-size=1536'],
  });
  const timer = setTimeout(() => child.kill('SIGKILL'), LIMIT_MS);
  try {
    return await new Promise<PublishAnswer>((resolve, reject) => {
      child.once('message', (answer: PublishAnswer) => resolve(answer));
      child.once('error', reject);
      child.once('exit', (code, signalName) =>
        reject(new Error(`the publishing process ended early (${signalName ?? `code ${code}`})`)),
      );
      child.send(request);
    });
  } finally {
    clearTimeout(timer);
    child.kill('SIGKILL');
  }
}
