/** One version as the file of a session folder, to the letter. */
import { versionNumber } from '@/app/plans/versioned-kind';
import { loadVersionText } from '@/lib/server/queries/load-register';
import { FILE_NAMES } from '@/lib/server/read-version';

export const dynamic = 'force-dynamic';

type Context = Readonly<{
  params: Promise<{ kind: string; entryId: string; number: string; file: string }>;
}>;

const NOT_THERE = 'No such version.\n';

export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { kind, entryId, number: asked, file } = await params;
  const number = versionNumber(asked);
  if ((kind !== 'plan' && kind !== 'rules') || number === null || file !== FILE_NAMES[kind]) {
    return new Response(NOT_THERE, { status: 404 });
  }
  const version = await loadVersionText(kind, entryId, number);
  if (version === null) return new Response(NOT_THERE, { status: 404 });
  return new Response(version.text, {
    headers: {
      'content-type': 'application/yaml; charset=utf-8',
      'content-disposition': `attachment; filename="${file}"`,
      'cache-control': 'no-store',
    },
  });
}
