import { readdir } from 'node:fs/promises';
import path from 'node:path';
import type { Issue } from '@/lib/core/result';
import { columnsOf, samplePath } from './columns-of';
import { hashFile, isSystemError } from './durable-files';
import type { SampleFile } from './sample-manifest';
import { MANIFEST_FILE } from './seal-folder';

async function checkFile(folder: string, file: SampleFile): Promise<Issue | null> {
  const name = path.posix.join(path.basename(folder), file.name);
  try {
    const found = await hashFile(path.join(folder, file.name));
    if (found.sha256 === file.sha256) return null;
    return {
      code: 'sample-file-changed',
      severity: 'error',
      file: name,
      message: `the file is not as it was written: ${found.bytes} bytes with SHA-256 ${found.sha256}, expected ${file.bytes} bytes with ${file.sha256}`,
      expected: file.sha256,
      received: found.sha256,
    };
  } catch (error) {
    if (!isSystemError(error, ['ENOENT', 'ENOTDIR', 'EACCES', 'EIO'])) throw error;
    return {
      code: 'sample-file-missing',
      severity: 'error',
      file: name,
      message: `the file cannot be read; expected ${file.bytes} bytes`,
      expected: file.sha256,
    };
  }
}

async function filesIn(folder: string, inside = ''): Promise<string[]> {
  const entries = await readdir(path.join(folder, inside), { withFileTypes: true });
  const nested = await Promise.all(
    entries.map((entry) => {
      const name = path.posix.join(inside, entry.name);
      return entry.isDirectory() ? filesIn(folder, name) : [name];
    }),
  );
  return nested.flat();
}

/** Hashes every file of a folder again. Empty when it is whole, else one issue a file. */
export async function verifyFolder(samplesRoot: string, folder: string): Promise<Issue[]> {
  const place = samplePath(samplesRoot, folder);
  let manifest: Awaited<ReturnType<typeof columnsOf>>;
  try {
    manifest = await columnsOf(samplesRoot, folder);
  } catch {
    // Absent, cut off or edited: all the same, the folder has no manifest to be held against.
    return [
      {
        code: 'sample-manifest-unreadable',
        severity: 'error',
        file: `${folder}/${MANIFEST_FILE}`,
        message: 'the manifest of these samples is missing or damaged',
      },
    ];
  }
  const issues: Issue[] = [];
  for (const file of manifest.files) {
    const issue = await checkFile(place, file);
    if (issue !== null) issues.push(issue);
  }
  const listed = new Set([MANIFEST_FILE, ...manifest.files.map((file) => file.name)]);
  for (const name of await filesIn(place)) {
    if (listed.has(name)) continue;
    issues.push({
      code: 'sample-file-unlisted',
      severity: 'warning',
      file: `${folder}/${name}`,
      message: 'the file is not in the manifest',
    });
  }
  return issues;
}
