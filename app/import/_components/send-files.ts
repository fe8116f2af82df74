/** Sends files to the server one after another, with the bytes sent so far. */
import type { NamedFile } from './collect-files';

export type SendProgress = Readonly<{ file: string; bytesDone: number; bytesTotal: number }>;

export type SendOptions = Readonly<{
  onProgress: (progress: SendProgress) => void;
  signal: AbortSignal;
}>;

export type Sent =
  | Readonly<{ ok: true; uploadId: string }>
  | Readonly<{ ok: false; message: string }>;

type Answer = Readonly<{ status: number; body: unknown }>;

/** @returns the upload's id, or in words why a file was not taken; nothing stays on the server then */
export async function sendFiles(
  files: readonly NamedFile[],
  { onProgress, signal }: SendOptions,
): Promise<Sent> {
  const bytesTotal = files.reduce((sum, { file }) => sum + file.size, 0);
  let bytesBefore = 0;
  let uploadId: string | null = null;
  for (const { name, file } of files) {
    const report = (bytes: number): void =>
      onProgress({ file: name, bytesDone: bytesBefore + bytes, bytesTotal });
    report(0);
    const answer = await post(addressOf(name, uploadId), file, report, signal);
    const id = stringIn(answer.body, 'uploadId');
    if (answer.status !== 200 || id === null) {
      if (uploadId !== null) await forgetUpload(uploadId);
      const message = stringIn(answer.body, 'message') ?? reasonOf(answer.status);
      // A message about the name itself has it already, cut where it is long.
      const named = message.startsWith('"') ? message : `${name}: ${message}`;
      return { ok: false, message: signal.aborted ? 'Cancelled.' : named };
    }
    uploadId = id;
    bytesBefore += file.size;
  }
  return uploadId === null
    ? { ok: false, message: 'There was no file in it.' }
    : { ok: true, uploadId };
}

export async function forgetUpload(uploadId: string): Promise<void> {
  await fetch(`/import/upload?upload=${uploadId}`, { method: 'DELETE' }).catch(() => null);
}

function addressOf(name: string, uploadId: string | null): string {
  const query = new URLSearchParams({ name });
  if (uploadId !== null) query.set('upload', uploadId);
  return `/import/upload?${query}`;
}

/** A request that tells how much has gone out, which fetch does not. */
function post(
  address: string,
  file: File,
  onBytes: (bytes: number) => void,
  signal: AbortSignal,
): Promise<Answer> {
  return new Promise((resolve) => {
    const request = new XMLHttpRequest();
    request.open('POST', address);
    request.responseType = 'json';
    request.upload.onprogress = (event) => onBytes(event.loaded);
    request.onload = () => resolve({ status: request.status, body: request.response });
    request.onerror = () => resolve({ status: 0, body: null });
    request.onabort = () => resolve({ status: 0, body: null });
    signal.addEventListener('abort', () => request.abort(), { once: true });
    if (signal.aborted) resolve({ status: 0, body: null });
    else request.send(file);
  });
}

function stringIn(body: unknown, key: string): string | null {
  if (typeof body !== 'object' || body === null) return null;
  const value: unknown = Reflect.get(body, key);
  return typeof value === 'string' ? value : null;
}

function reasonOf(status: number): string {
  return status === 0
    ? 'the connection to the server was lost or the file could not be read.'
    : `the server did not take it (${status}).`;
}
