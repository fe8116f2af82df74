/**
 * The manifest of a publication: the SHA-256 of each of its files, in the form that `sha256sum -c`
 * reads, so that a stranger checks it without this program. It is what the installation signs.
 *
 * Source: GNU coreutils 9 manual, "md5sum invocation" and "cksum common options": a line is the
 * digest, two spaces for a text or binary file, and the name; where the name holds a backslash, a line
 * feed or a carriage return, the line begins with a backslash and each of them is written with one.
 */
import { type PublishedPlace, publishedName } from './published-name';

export type ManifestEntry = Readonly<{ name: string; sha256: string }>;

const ESCAPES: Readonly<Record<string, string>> = { '\\': '\\\\', '\n': '\\n', '\r': '\\r' };

function entryLine({ name, sha256 }: ManifestEntry): string {
  const escaped = name.replace(/[\\\n\r]/g, (sign) => ESCAPES[sign] ?? sign);
  return `${escaped === name ? '' : '\\'}${sha256}  ${escaped}\n`;
}

/** The name as the file has it; null where a backslash stands before none of the three. */
function readName(escaped: string): string | null {
  if (/\\(?![\\nr])/.test(escaped.replaceAll('\\\\', ''))) return null;
  const signs = { '\\\\': '\\', '\\n': '\n', '\\r': '\r' } as const;
  return escaped.replace(/\\[\\nr]/g, (pair) => signs[pair as keyof typeof signs]);
}

/** The text that is signed: one line a file, by name. */
export function manifestText(files: readonly ManifestEntry[]): string {
  const byName = [...files].sort((a, b) => (a.name < b.name ? -1 : 1));
  return byName.map(entryLine).join('');
}

/** Stored files under the names that they are saved by. */
export function savedEntries(
  files: readonly ManifestEntry[],
  place: PublishedPlace,
): readonly ManifestEntry[] {
  return files.map(({ name, sha256 }) => ({ name: publishedName(name, place), sha256 }));
}

/**
 * Reads a manifest.
 *
 * @returns null where a line is none of a manifest
 */
export function readManifest(text: string): readonly ManifestEntry[] | null {
  const entries: ManifestEntry[] = [];
  for (const line of text.split('\n')) {
    if (line === '') continue;
    const match = /^(\\?)([0-9a-f]{64}) [ *]([^\n]+)$/.exec(line);
    if (match === null) return null;
    const [, isEscaped, sha256 = '', written = ''] = match;
    const name = isEscaped === '' ? written : readName(written);
    if (name === null) return null;
    entries.push({ sha256, name });
  }
  return entries.length === 0 ? null : entries;
}
