/** The other side of `runInChild`: one request in, answers out. */
import { env } from '../env';
import { adoptLeapList } from '../leap-list';

/** Waits for the request, does the work and says what became of it, or what it threw. */
export function answerParent<Request, Answer>(work: (request: Request) => Promise<Answer>): void {
  adoptLeapList(env().dataDir); // the server has said what became of it
  process.on('disconnect', () => process.exit(1)); // the server is gone: nobody wants the answer
  process.once('message', (request: Request) => {
    work(request).then(
      (answer) => process.send?.(answer),
      (error: unknown) => {
        const message = error instanceof Error ? (error.stack ?? error.message) : String(error);
        process.send?.({ kind: 'broken', message });
      },
    );
  });
}
