/** The progress of one job as server-sent events: `job` with its JSON at each change, then an end. */
import { jobEvents } from '@/lib/server/jobs/job-events';
import { readJob } from '@/lib/server/queries/load-job';

export const dynamic = 'force-dynamic';

type Context = Readonly<{ params: Promise<{ jobId: string }> }>;

export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { jobId } = await params;
  if ((await readJob(jobId)) === null) return new Response('No such job.\n', { status: 404 });
  return new Response(jobEvents(jobId, request.signal), {
    headers: {
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-cache, no-transform',
      'x-accel-buffering': 'no',
    },
  });
}
