import type { SealedRecord } from '@/lib/core/debrief/record';
import { loadQuickLook, quickLookHtml, quickLookPdf } from '@/lib/server/publish/quick-look';

export const dynamic = 'force-dynamic';

type Context = Readonly<{ params: Promise<{ sessionId: string; file: string }> }>;

type Kind = Readonly<{
  mediaType: string;
  make: (sealed: SealedRecord) => Promise<string | Uint8Array>;
}>;

const PDF = 'application/pdf';

const KINDS: ReadonlyMap<string, Kind> = new Map([
  ['quick-look.html', { mediaType: 'text/html; charset=utf-8', make: quickLookHtml }],
  ['quick-look-a4.pdf', { mediaType: PDF, make: (sealed) => quickLookPdf(sealed, 'a4') }],
  [
    'quick-look-letter.pdf',
    { mediaType: PDF, make: (sealed) => quickLookPdf(sealed, 'us-letter') },
  ],
]);

/** The quick look as a file to keep or to send. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { sessionId, file } = await params;
  const kind = KINDS.get(file);
  const sealed = kind === undefined ? null : await loadQuickLook(sessionId);
  if (kind === undefined || sealed === null) {
    return new Response('No such file, or nothing to look at yet.\n', {
      status: 404,
      headers: { 'content-type': 'text/plain; charset=utf-8' },
    });
  }
  return new Response((await kind.make(sealed)) as BodyInit, {
    headers: {
      'content-type': kind.mediaType,
      'content-disposition': `attachment; filename="${file}"`,
      'cache-control': 'no-store',
    },
  });
}
