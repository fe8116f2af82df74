import { loadStretch } from '@/lib/server/queries/load-stretch';
import { stretchView } from '@/lib/view/timeline-stretch';
import { readStretchRequest, refusal } from '../request';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

/** `GET …/stretch?from&to`: the figures of a stretch and what was said meanwhile. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const asked = readStretchRequest(new URL(request.url).searchParams);
  if (typeof asked === 'string') return refusal(400, asked);
  const stretch = await loadStretch(sessionId, asked);
  if (stretch === null) return refusal(404, 'No such session, or it has not been reconstructed.');
  return Response.json(stretchView(sessionId, stretch), {
    headers: { 'cache-control': 'no-store' },
  });
}
