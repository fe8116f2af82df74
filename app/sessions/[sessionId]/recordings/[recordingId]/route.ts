/** The file of a recording as it came, whole or in the parts that a player asks for; nothing is converted. */
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { rangeAnswer } from '@/lib/server/byte-range';
import { loadPlayedRecording } from '@/lib/server/queries/load-recordings';
import { recordingFile } from '@/lib/server/recordings/recording-files';

export const dynamic = 'force-dynamic';

type Context = Readonly<{ params: Promise<{ sessionId: string; recordingId: string }> }>;

export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { sessionId, recordingId } = await params;
  const recording = await loadPlayedRecording(sessionId, recordingId);
  const file = recording === null ? '' : recordingFile(recording.folder);
  const size = recording === null ? null : await sizeOf(file);
  if (recording === null || size !== recording.bytes)
    return new Response('This recording is not here.\n', { status: 404 });
  const etag = `"${recording.sha256}"`;
  const headers = {
    'content-type': recording.mediaType,
    'accept-ranges': 'bytes',
    etag,
    'cache-control': 'private, no-cache',
    'content-disposition': 'inline',
  };
  const { range, ifRange } = rangeHeaders(request);
  if (range === null && request.headers.get('if-none-match')?.includes(etag))
    return new Response(null, { status: 304, headers });
  const part = rangeAnswer({ range, ifRange, etag, bytes: size });
  if (part === 'unsatisfiable')
    return new Response(null, {
      status: 416,
      headers: { ...headers, 'content-range': `bytes */${size}` },
    });
  const { from, to } = part === 'whole' ? { from: 0, to: size - 1 } : part;
  return new Response(request.method === 'HEAD' ? null : streamOf(file, from, to), {
    status: part === 'whole' ? 200 : 206,
    headers: {
      ...headers,
      'content-length': `${to - from + 1}`,
      ...(part === 'whole' ? {} : { 'content-range': `bytes ${from}-${to}/${size}` }),
    },
  });
}

/** A range is of GET alone. Source: RFC 9110, 14.2. */
function rangeHeaders({ method, headers }: Request) {
  if (method === 'HEAD') return { range: null, ifRange: null };
  return { range: headers.get('range'), ifRange: headers.get('if-range') };
}

export function HEAD(request: Request, context: Context): Promise<Response> {
  return GET(request, context);
}

async function sizeOf(file: string): Promise<number | null> {
  return stat(/* turbopackIgnore: true */ file).then(
    ({ size }) => size,
    () => null,
  );
}

/** Closed as soon as the player asks for another place, which it does at every jump. */
function streamOf(file: string, start: number, end: number): ReadableStream<Uint8Array> {
  const source = createReadStream(/* turbopackIgnore: true */ file, { start, end });
  return Readable.toWeb(source) as ReadableStream<Uint8Array>;
}
