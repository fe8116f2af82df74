/** The session folder as it travels in a data package, and what of it is too large to. */
import { createHash } from 'node:crypto';
import type { PackageContents } from '@/lib/core/debrief/package/package-readme';
import { hashFile } from '../../samples/durable-files';
import { contentBytes, folderContents, type ZipContent } from '../../uploads/zip-folder';
import type { PackageInputs } from './package-material';

/** A session folder larger than this travels without its largest files; our own choice. */
const MOST_SESSION_BYTES = 256 * 1024 * 1024;

type LeftOut = PackageContents['leftOut'][number];

/** SHA-256 of one file of the package, lower-case hexadecimal. */
export async function hashOf(content: ZipContent): Promise<string> {
  if ('file' in content) return (await hashFile(content.file)).sha256;
  const bytes = 'text' in content ? content.text : content.data;
  return createHash('sha256').update(bytes).digest('hex');
}

/**
 * The session's files under `session/`, without some where all together are too many bytes: first the
 * recordings, from which nothing is computed, then the largest.
 *
 * @param mostBytes how many bytes they may have together
 */
export async function sessionFiles(
  { folder, texts, recordings }: Pick<PackageInputs, 'folder' | 'texts' | 'recordings'>,
  mostBytes = MOST_SESSION_BYTES,
): Promise<Readonly<{ files: Map<string, ZipContent>; leftOut: readonly LeftOut[] }>> {
  const contents = await folderContents(folder, new Map(texts), recordings);
  const files = new Map([...contents].map(([name, content]) => [`session/${name}`, content]));
  const isRecording = new Set(recordings.files.map(({ name }) => `session/${name}`));
  const rank = (name: string): number => (isRecording.has(name) ? 0 : 1);
  const bySize = [...files].sort(
    ([a, one], [b, other]) => rank(a) - rank(b) || contentBytes(other) - contentBytes(one),
  );
  let total = bySize.reduce((sum, [, content]) => sum + contentBytes(content), 0);
  const leftOut: LeftOut[] = [];
  for (const [name, content] of bySize) {
    if (total <= mostBytes) break;
    files.delete(name);
    total -= contentBytes(content);
    leftOut.push({ name, bytes: contentBytes(content), sha256: await hashOf(content) });
  }
  return { files, leftOut };
}
