import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { sequenceCsv } from '@/lib/view/as-flown-view';
import { csvResponse } from '../../csv-response';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

/** `GET …/phases/sequence.csv`: the whole as-flown sequence, what was said included, as a file. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return new Response('No such session.\n', { status: 404 });
  return csvResponse(sequenceCsv(reconstruction), 'as-flown-sequence.csv');
}
