import { setTimeout as wait } from 'node:timers/promises';
import { loadRemarkStamp } from '@/lib/server/queries/load-remark-stamp';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

export const dynamic = 'force-dynamic';

/** With the page read again, a change is on the other screen well within two seconds. */
const LOOK_EVERY_MS = 400;
/** A quiet line is closed by some proxies; a comment now and then keeps it. */
const COMMENT_EVERY_LOOKS = 37;

/** Server-sent events: `remarks` whenever a finding or annotation of the session has changed. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const encoder = new TextEncoder();
  const stream = new ReadableStream<Uint8Array>({
    async start(controller) {
      const send = (text: string): void => controller.enqueue(encoder.encode(text));
      try {
        let known = '';
        for (let looks = 0; !request.signal.aborted; looks += 1) {
          const stamp = await loadRemarkStamp(sessionId);
          if (stamp === null) {
            send('event: gone\ndata: {}\n\n');
            break;
          }
          if (stamp !== known) send(`event: remarks\ndata: ${JSON.stringify({ stamp })}\n\n`);
          else if (looks % COMMENT_EVERY_LOOKS === 0) send(': still here\n\n');
          known = stamp;
          await wait(LOOK_EVERY_MS, undefined, { signal: request.signal });
        }
        controller.close();
      } catch (error) {
        // The reader has left: nothing to tell anybody.
        if (!request.signal.aborted) controller.error(error);
      }
    },
  });
  return new Response(stream, {
    headers: {
      'content-type': 'text/event-stream',
      'cache-control': 'no-cache, no-transform',
      'x-accel-buffering': 'no',
    },
  });
}
