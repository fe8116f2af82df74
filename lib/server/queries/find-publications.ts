/** Published debriefs that hold some words: in what they are called, or in their text. */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { publishedRoot } from '../data-folders';
import { loadPublications, type PublicationSummary } from './load-publications';

/** Records are read for their text up to this many; more are found by what they are called. Our choice. */
const MOST_RECORDS = 500;

function calledSo(each: PublicationSummary, words: readonly string[]): boolean {
  const { designation, number, revision, title, sessionTitle, publishedBy, sha256 } = each;
  const name = [
    designation,
    `Debrief ${number}, revision ${revision}`,
    title,
    sessionTitle ?? '',
    publishedBy,
    ...each.approvals.map(({ role, name }) => `approved ${role} ${name}`),
    each.withdrawn === null ? '' : `withdrawn ${each.withdrawn.reason}`,
  ];
  const text = name.join('\n').toLowerCase();
  return words.every((word) => text.includes(word) || sha256.startsWith(word));
}

async function saysSo({ folder }: PublicationSummary, words: readonly string[]): Promise<boolean> {
  const file = path.join(publishedRoot(), folder, 'record.json');
  const text = await readFile(file, 'utf8').catch(() => ''); // one that is lost has no text
  const lower = text.toLowerCase();
  return words.every((word) => lower.includes(word));
}

/**
 * Those that hold every word of a query, in the order of the register; all of them for none.
 *
 * @param query as typed
 */
export async function findPublications(query: string): Promise<readonly PublicationSummary[]> {
  const all = await loadPublications();
  const words = query
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  if (words.length === 0) return all;
  // One after the other: a record may be megabytes, and many are not held at once.
  const found: PublicationSummary[] = [];
  for (const [index, each] of all.entries()) {
    const isFound = calledSo(each, words) || (index < MOST_RECORDS && (await saysSo(each, words)));
    if (isFound) found.push(each);
  }
  return found;
}
