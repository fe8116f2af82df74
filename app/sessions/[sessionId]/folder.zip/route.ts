/** The session's files as they were imported, with plan and rules in use and what people said since, as one .zip. */
import { Readable } from 'node:stream';
import { originalFolder } from '@/lib/server/jobs/session-files';
import { loadFolderTexts } from '@/lib/server/queries/load-folder-texts';
import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { loadExportedRecordings } from '@/lib/server/recordings/folder-recordings';
import { zipFolder } from '@/lib/server/uploads/zip-folder';

export const dynamic = 'force-dynamic';

type Context = Readonly<{ params: Promise<{ sessionId: string }> }>;

/** Letters and digits of the title, for a file name that every disk takes. */
function fileName(title: string): string {
  const plain = title
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return `${plain === '' ? 'session' : plain}.zip`;
}

export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { sessionId } = await params;
  const session = await loadSessionHeader(sessionId);
  if (session === null) return new Response('No such session.\n', { status: 404 });
  const zip = await zipFolder(
    originalFolder(session),
    await loadFolderTexts(session),
    await loadExportedRecordings(sessionId),
  );
  return new Response(Readable.toWeb(Readable.from(zip)) as ReadableStream<Uint8Array>, {
    headers: {
      'content-type': 'application/zip',
      'content-disposition': `attachment; filename="${fileName(session.title)}"`,
      'cache-control': 'no-store',
    },
  });
}
