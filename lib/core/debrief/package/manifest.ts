/**
 * The manifest of a publication: the SHA-256 of each of its files, in the form that `sha256sum -c`
 * reads, so that a stranger checks it without this program. It is what the installation signs.
 *
 * Source: GNU coreutils 9 manual, "md5sum invocation" and "cksum common options": a line is the
 * digest, two spaces for a text or binary file, and the name.
 */
import { type PublishedPlace, publishedName } from './published-name';

export type ManifestEntry = Readonly<{ name: string; sha256: string }>;

/** The text that is signed: one line a file, by name. */
export function manifestText(files: readonly ManifestEntry[]): string {
  const lines = files.map(({ name, sha256 }) => `${sha256}  ${name}\n`);
  return lines.sort((a, b) => (a.slice(66) < b.slice(66) ? -1 : 1)).join('');
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
    const match = /^([0-9a-f]{64}) [ *](.+)$/.exec(line);
    if (match === null) return null;
    entries.push({ sha256: match[1] ?? '', name: match[2] ?? '' });
  }
  return entries.length === 0 ? null : entries;
}
