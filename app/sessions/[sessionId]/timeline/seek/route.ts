import { loadChannels } from '@/lib/server/queries/load-channels';
import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { loadSought } from '@/lib/server/queries/load-sought';
import { limitInSi, soughtView } from '@/lib/view/timeline-sought';
import { numberOf, refusal } from '../request';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

const LONGEST_S = 1e9;

/** `GET …/seek?c&of&sense&limit&for&over`: stretches beyond a value, the limit in the reader's unit. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const query = new URL(request.url).searchParams;
  const key = query.get('c') ?? '';
  const limit = numberOf(query.get('limit'));
  const leastS = numberOf(query.get('for')) ?? 0;
  if (limit === null) return refusal(400, 'limit is needed: a number.');
  if (leastS < 0 || leastS > LONGEST_S) return refusal(400, 'for is a time in seconds, 0 or more.');
  if ((await loadSessionHeader(sessionId)) === null) return refusal(404, 'No such session.');
  const channel = (await loadChannels(sessionId)).find((each) => each.key === key);
  if (channel === undefined) return refusal(404, 'This session has no such channel.');
  const of = query.get('of') === 'rate' ? 'rate' : 'value';
  const sense = query.get('sense') === 'below' ? 'below' : 'above';
  const limitSi = limitInSi(of, { typed: limit, unit: channel.unit });
  const condition = { of, sense, limit: limitSi, leastS } as const;
  const over = query.get('over') === 'all' ? 'all' : 'this';
  const found = await loadSought({ sessionId, key, condition, over });
  return Response.json(soughtView(found ?? [], condition, key), {
    headers: { 'cache-control': 'no-store' },
  });
}
