/** The files of a source as they came, beside its samples. */
import path from 'node:path';
import { crashPoint } from '../crash-point';
import { keepFile, syncPath } from './durable-files';
import type { SampleFile } from './sample-manifest';
import type { ScannedPart } from './unpack-source';

/** The originals of a source beside its samples: `original.csv`, or numbered ones of several. */
export async function keepOriginals(
  parts: readonly ScannedPart[],
  temporary: string,
  how: 'copy' | 'link' | 'leave',
): Promise<SampleFile[]> {
  if (how === 'leave') return [];
  const files: SampleFile[] = [];
  for (const [index, { name: from, file, scan }] of parts.entries()) {
    const extension = /(?:\.[A-Za-z0-9]{1,8}){1,2}$/.exec(from)?.[0] ?? '';
    const name = `original${parts.length > 1 ? `-${index + 1}` : ''}${extension}`;
    await keepFile(path.resolve(file), path.join(temporary, name), how);
    await syncPath(path.join(temporary, name));
    files.push({ name, bytes: scan.bytes, sha256: scan.sha256 });
  }
  crashPoint('samples:original-kept');
  return files;
}
