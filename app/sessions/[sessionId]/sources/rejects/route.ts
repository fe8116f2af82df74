import { loadRejects } from '@/lib/server/queries/load-rejects';
import { rejectsCsv } from '@/lib/view/rejects-csv';
import { csvResponse } from '../../csv-response';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

/** `GET …/rejects?file=NAME`: every row and cell of a source that was set aside, as a file. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const file = new URL(request.url).searchParams.get('file') ?? '';
  const rejects = await loadRejects(sessionId, file);
  if (rejects === null) return new Response('No such source.\n', { status: 404 });
  return csvResponse(
    rejectsCsv(rejects),
    `${file.replace(/(?:\.gz)?$/i, '').replace(/\.[\w]+$/, '')}-set-aside.csv`,
  );
}
