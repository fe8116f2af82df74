import { loadEnvelope } from '@/lib/server/queries/load-envelope';
import { encodeEnvelope } from '@/lib/view/charts/envelope-wire';
import { readPixels, readStretchRequest, refusal, SHORTEST_S } from '../request';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

/** `GET …/envelope?from&to&pixels&c=…&c=…`: least and greatest value in each pixel, as bytes. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const query = new URL(request.url).searchParams;
  const asked = readStretchRequest(query);
  if (typeof asked === 'string') return refusal(400, asked);
  const pixels = readPixels(query);
  if (pixels === null) return refusal(400, 'pixels is needed: a whole number from 16 to 4096.');
  if (asked.toS - asked.fromS < SHORTEST_S) return refusal(400, 'The window has no length.');
  const answer = await loadEnvelope(sessionId, { ...asked, pixels });
  if (answer === null) return refusal(404, 'No such session, or it has no samples.');
  return new Response(encodeEnvelope(answer), {
    headers: { 'content-type': 'application/octet-stream', 'cache-control': 'no-store' },
  });
}
