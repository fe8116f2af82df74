/**
 * Takes in files, one request each, as raw bytes.
 *
 * `POST /import/upload?name=NAME` starts an upload and answers `{ uploadId, name, bytes, sha256 }`;
 * `&upload=ID` adds to it. NAME may hold folders (`flight/session.yaml`). `DELETE
 * /import/upload?upload=ID` forgets one. A refusal answers `{ code, message }`.
 */
import type { ReadableStream } from 'node:stream/web';
import { env } from '@/lib/server/env';
import { isUploadInUse } from '@/lib/server/queries/load-job';
import { factsOf, rejectRequest } from '@/lib/server/request-guard';
import { FIXED_HEADERS } from '@/lib/server/security-headers';
import { isUploadId, receiveFile, removeUpload } from '@/lib/server/uploads/receive-file';

export const dynamic = 'force-dynamic';

type Refusal = Readonly<{ status: number; code: string; message: string }>;

function refusal({ status, code, message }: Refusal): Response {
  return Response.json({ code, message }, { status, headers: FIXED_HEADERS });
}

/** The guard of `proxy.ts`, which does not see uploads because it would hold their bodies in memory. */
function guard(request: Request): Response | null {
  const rejection = rejectRequest(factsOf(request), env().appUrl);
  return rejection === null ? null : refusal({ code: 'not-from-here', ...rejection });
}

function uploadIdOf(request: Request): string | null {
  return new URL(request.url).searchParams.get('upload');
}

const BAD_ID: Refusal = { status: 400, code: 'no-such-upload', message: 'This is no upload.' };

const IN_USE: Refusal = {
  status: 409,
  code: 'upload-in-use',
  message: 'This upload is being imported: cancel the import instead.',
};

export async function POST(request: Request): Promise<Response> {
  const rejected = guard(request);
  if (rejected !== null) return rejected;
  const uploadId = uploadIdOf(request);
  if (uploadId !== null && !isUploadId(uploadId)) return refusal(BAD_ID);
  if (uploadId !== null && (await isUploadInUse(uploadId))) return refusal(IN_USE);
  const announced = Number(request.headers.get('content-length') ?? Number.NaN);
  try {
    const received = await receiveFile({
      uploadId,
      name: new URL(request.url).searchParams.get('name') ?? '',
      announcedBytes: Number.isFinite(announced) ? announced : null,
      body: request.body as ReadableStream<Uint8Array> | null,
      signal: request.signal,
    });
    if ('status' in received) return refusal(received);
    return Response.json(received, { headers: FIXED_HEADERS });
  } catch (error) {
    if (!request.signal.aborted) throw error;
    return refusal({ status: 400, code: 'broken-off', message: 'The upload was broken off.' });
  }
}

export async function DELETE(request: Request): Promise<Response> {
  const rejected = guard(request);
  if (rejected !== null) return rejected;
  const uploadId = uploadIdOf(request);
  if (uploadId === null || !isUploadId(uploadId)) return refusal(BAD_ID);
  if (await isUploadInUse(uploadId)) return refusal(IN_USE);
  await removeUpload(uploadId);
  return new Response(null, { status: 204, headers: FIXED_HEADERS });
}
