import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import { loadPublishedFile, readCount } from '@/lib/server/publish/load-record';

type FileContext = Readonly<{
  params: Promise<{ number: string; revision: string; file: string }>;
}>;

/** A file of a publication, to be saved: the bytes that were published, or nothing. */
export async function GET(_request: Request, { params }: FileContext): Promise<Response> {
  const address = await params;
  const number = readCount(address.number);
  const revision = readCount(address.revision);
  const file =
    number === null || revision === null
      ? null
      : await loadPublishedFile(number, revision, address.file);
  if (file === null) {
    const message = 'No such file of this publication, or its bytes are not those published.\n';
    return new Response(message, { status: 404, headers: { 'Content-Type': 'text/plain' } });
  }
  const content = Readable.toWeb(createReadStream(file.place)) as ReadableStream<Uint8Array>;
  return new Response(content, {
    headers: {
      'Content-Type': file.mediaType,
      'Content-Length': String(file.bytes),
      'Content-Disposition': `attachment; filename="${file.downloadName}"`,
      'Cache-Control': 'private, max-age=31536000, immutable',
      ETag: `"${file.sha256}"`,
    },
  });
}
