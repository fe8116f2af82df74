import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { loadStretchColumns } from '@/lib/server/queries/load-stretch';
import type { StretchRows } from '@/lib/view/checked-answers';
import { stretchCsv, stretchTable, type TableColumn } from '@/lib/view/timeline-table';
import { csvResponse } from '../../csv-response';
import { readStretchRequest, refusal } from '../request';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

const ROWS_SHOWN = 40;

/** `GET …/rows?from&to&c=…[&format=csv]`: statistics and sampled rows, or every row as a file. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const query = new URL(request.url).searchParams;
  const asked = readStretchRequest(query);
  if (typeof asked === 'string') return refusal(400, asked);
  if ((await loadSessionHeader(sessionId)) === null) return refusal(404, 'No such session.');
  const read = await loadStretchColumns(sessionId, asked);
  const columns = read.flatMap((each) =>
    each.columns.map(({ channel, values }): TableColumn => {
      return { key: channel.key, unit: channel.unit, tS: each.tS, values };
    }),
  );
  if (query.get('format') !== 'csv') {
    const rows: StretchRows = {
      table: stretchTable(columns, ROWS_SHOWN),
      cut: read.some((each) => each.cut),
    };
    return Response.json(rows, { headers: { 'cache-control': 'no-store' } });
  }
  const name = `stretch-${Math.round(asked.fromS)}-${Math.round(asked.toS)}.csv`;
  return csvResponse(stretchCsv(columns), name);
}
