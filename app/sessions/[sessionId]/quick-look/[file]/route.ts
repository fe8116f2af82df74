import { loadQuickLook, quickLookHtml } from '@/lib/server/publish/quick-look';

export const dynamic = 'force-dynamic';

type Context = Readonly<{ params: Promise<{ sessionId: string; file: string }> }>;

const FILE = 'quick-look.html';

/** The quick look as a file to keep or to send. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { sessionId, file } = await params;
  const sealed = file === FILE ? await loadQuickLook(sessionId) : null;
  if (sealed === null) {
    return new Response('No such file, or nothing to look at yet.\n', {
      status: 404,
      headers: { 'content-type': 'text/plain; charset=utf-8' },
    });
  }
  return new Response(await quickLookHtml(sealed), {
    headers: {
      'content-type': 'text/html; charset=utf-8',
      'content-disposition': `attachment; filename="${FILE}"`,
      'cache-control': 'no-store',
    },
  });
}
