/** Files of an export by name, out of an archive or beside a text, held against the record among them. */
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { type VerifiedFile, verifyDocx } from '@/lib/core/debrief/docx/verify-docx';
import { verifyMarkdown } from '@/lib/core/debrief/markdown/verify-markdown';
import { formatIssue, plainLine } from '@/lib/core/result';
import { unzip } from '@/lib/server/uploads/unzip';
import { makeStore } from './run-store';

/** What is checked, and against what. */
export type Wanted = Readonly<{
  file: string;
  engine: string;
  sha256: string | null;
  /** Text of a record given beside the file; null where the file carries its own. */
  record: string | null;
}>;

function readAll(folder: string): ReadonlyMap<string, Uint8Array> {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true });
  return new Map(
    entries
      .filter((entry) => entry.isFile())
      .map((entry) => {
        const place = path.join(entry.parentPath, entry.name);
        return [path.relative(folder, place).split(path.sep).join('/'), readFileSync(place)];
      }),
  );
}

const texts = (files: ReadonlyMap<string, Uint8Array>): ReadonlyMap<string, string> =>
  new Map([...files].map(([name, bytes]) => [name, new TextDecoder().decode(bytes)]));

/**
 * Checks a DOCX or the archive of an export in Markdown.
 *
 * @returns what was found; null with the reason said where the archive cannot be read
 */
export async function verifyArchive({
  file,
  engine,
  sha256,
  record,
}: Wanted): Promise<VerifiedFile | null> {
  const store = makeStore();
  if (store === null) return null;
  try {
    const into = path.join(store, 'parts');
    const issues = await unzip({ file, into });
    if (issues.length > 0) {
      for (const issue of issues) console.error(plainLine(formatIssue(issue)));
      return null;
    }
    const parts = readAll(into);
    if (parts.has('SHA256SUMS')) {
      console.error('a data package: --recompute computes its numbers again');
      return null;
    }
    const isDocx = parts.has('word/document.xml');
    if (!isDocx && record !== null) {
      console.error('--record goes with a DOCX; the archive of a Markdown text has its own record');
      return null;
    }
    return isDocx
      ? verifyDocx(parts, engine, { published: sha256, record })
      : verifyMarkdown(texts(parts), engine, sha256);
  } finally {
    rmSync(store, { recursive: true, force: true });
  }
}
