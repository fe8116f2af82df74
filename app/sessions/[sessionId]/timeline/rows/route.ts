import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { loadStretchColumns } from '@/lib/server/queries/load-stretch';
import type { StretchRows } from '@/lib/view/checked-answers';
import { stretchCsv, stretchTable, type TableColumn } from '@/lib/view/timeline-table';
import { readStretchRequest, refusal } from '../request';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

const ROWS_SHOWN = 40;
const LINES_A_CHUNK = 2000;

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
  return new Response(lineStream(stretchCsv(columns)), {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="stretch-${Math.round(asked.fromS)}-${Math.round(asked.toS)}.csv"`,
      'cache-control': 'no-store',
    },
  });
}

/** Lines as bytes, some thousands at a time, made as the reader takes them. */
function lineStream(lines: Generator<string>): ReadableStream<Uint8Array> {
  const encoder = new TextEncoder();
  return new ReadableStream({
    pull(controller) {
      let text = '';
      for (let count = 0; count < LINES_A_CHUNK; count += 1) {
        const next = lines.next();
        if (next.done === true) {
          controller.enqueue(encoder.encode(text));
          controller.close();
          return;
        }
        text += `${next.value}\r\n`;
      }
      controller.enqueue(encoder.encode(text));
    },
  });
}
