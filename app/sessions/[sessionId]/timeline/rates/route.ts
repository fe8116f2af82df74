import { loadRates } from '@/lib/server/queries/load-rates';
import { ratesView } from '@/lib/view/timeline-rates';
import { readInstant, readKeys, refusal } from '../request';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

/** `GET …/rates?at&c=…&c=…`: how fast columns change at an instant, in the reader's unit. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const query = new URL(request.url).searchParams;
  const atS = readInstant(query.get('at'));
  if (atS === null) return refusal(400, 'at is needed, in session seconds.');
  const keys = readKeys(query);
  if (typeof keys === 'string') return refusal(400, keys);
  const rates = await loadRates(sessionId, { atS, keys });
  if (rates === null) return refusal(404, 'No such session, or it has no samples.');
  return Response.json(ratesView(atS, rates), { headers: { 'cache-control': 'no-store' } });
}
