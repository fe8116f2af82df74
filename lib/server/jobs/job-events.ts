/** A job's row, read a few times a second, as a stream of server-sent events. */
import { setTimeout as sleep } from 'node:timers/promises';
import { readJob } from '../queries/load-job';

const READ_EVERY_MS = 250;
/** A line now and then keeps proxies and browsers from taking the silence for an end. */
const SILENCE_MS = 15_000;
const ENDED = new Set(['done', 'failed', 'cancelled']);

/** Sends `event: job` at each change; ends after the job's last state or when the reader leaves. */
export function jobEvents(jobId: string, signal: AbortSignal): ReadableStream<Uint8Array> {
  const encoder = new TextEncoder();
  const left = new AbortController();
  const stop = AbortSignal.any([signal, left.signal]);
  return new ReadableStream({
    async start(controller) {
      const send = (text: string): void => controller.enqueue(encoder.encode(text));
      try {
        send('retry: 1000\n\n');
        await follow(jobId, stop, send);
        controller.close();
      } catch (error) {
        if (!stop.aborted) controller.error(error);
      }
    },
    cancel: () => left.abort(),
  });
}

async function follow(
  jobId: string,
  stop: AbortSignal,
  send: (text: string) => void,
): Promise<void> {
  let last = '';
  let sentAtMs = performance.now();
  while (!stop.aborted) {
    const job = await readJob(jobId);
    const text = JSON.stringify(job);
    const isNew = text !== last;
    if (isNew) send(`event: job\ndata: ${text}\n\n`);
    else if (performance.now() - sentAtMs > SILENCE_MS) send(': still here\n\n');
    if (isNew || performance.now() - sentAtMs > SILENCE_MS) sentAtMs = performance.now();
    last = text;
    if (job === null || ENDED.has(job.state)) return;
    await sleep(READ_EVERY_MS, undefined, { signal: stop });
  }
}
