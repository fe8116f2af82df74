import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { loadEdgedColumns } from '@/lib/server/queries/load-stretch';
import { differencesView } from '@/lib/view/timeline-differences';
import { readStretchRequest, refusal } from '../request';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

/** `GET …/differences?from&to&c=…`: what two cursors say of each column, as figures. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const asked = readStretchRequest(new URL(request.url).searchParams);
  if (typeof asked === 'string') return refusal(400, asked);
  const [header, reconstruction] = await Promise.all([
    loadSessionHeader(sessionId),
    loadReconstruction(sessionId),
  ]);
  if (header === null) return refusal(404, 'No such session.');
  const sources = (reconstruction?.sources ?? []).map(({ file, sha256, type }) => {
    return { file, sha256, type };
  });
  const read = await loadEdgedColumns(sessionId, asked);
  const columns = read.flatMap((each) =>
    each.columns.map(({ channel, values }) => ({
      key: channel.key,
      unit: channel.unit,
      tS: each.tS,
      values,
      rows: channel.source === null ? ('estimated' as const) : ('measured' as const),
      sources: sources
        .filter(({ file, type }) =>
          channel.source === null ? type === 'telemetry' : file === channel.source,
        )
        .map(({ file, sha256 }) => ({ file, sha256 })),
    })),
  );
  return Response.json(differencesView(sessionId, columns, asked), {
    headers: { 'cache-control': 'no-store' },
  });
}
