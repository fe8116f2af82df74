/** Published files as they lie on the disk, checked against what was published. */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { cache } from 'react';
import { compareRecords, type SectionChanges } from '@/lib/core/debrief/compare-records';
import { publishedName } from '@/lib/core/debrief/package/published-name';
import { type DebriefRecord, readRecord } from '@/lib/core/debrief/record';
import { publishedRoot } from '../data-folders';
import { loadPublication, loadPublications, type Publication } from '../queries/load-publications';
import { hashFile, pathExists } from '../samples/durable-files';

export type PublishedRecord = Readonly<{
  publication: Publication;
  /** Null where the stored bytes are missing or are not those that were published. */
  record: DebriefRecord | null;
}>;

async function readRecordBytes({ folder }: Publication): Promise<Buffer | null> {
  try {
    return await readFile(path.join(publishedRoot(), folder, 'record.json'));
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}

/** @returns null where no such revision was published */
export const loadRecord = cache(
  async (number: number, revision: number): Promise<PublishedRecord | null> => {
    const publication = await loadPublication(number, revision);
    if (publication === null) return null;
    const bytes = await readRecordBytes(publication);
    const record = bytes === null ? null : readRecord(bytes.toString('utf8'), publication.sha256);
    return { publication, record };
  },
);

/** The newest revision that stands, or the newest where none does; null where the number was never given. */
export async function leadingRevisionOf(number: number): Promise<number | null> {
  const all = await loadPublications();
  return all.find((each) => each.number === number)?.leadingRevision ?? null;
}

/** What two revisions that follow each other differ in. */
export type RevisionDifference = Readonly<{
  title: string;
  /** Why the later one supersedes the earlier; empty where none was asked for. */
  reason: string;
  /** Null where one of the records is missing or damaged. */
  sections: readonly SectionChanges[] | null;
}>;

/** @returns null where there is no such revision, or none before it */
export async function loadRevisionChanges(
  number: number,
  revision: number,
): Promise<RevisionDifference | null> {
  const [before, after] = await Promise.all([
    loadRecord(number, revision - 1),
    loadRecord(number, revision),
  ]);
  if (before === null || after === null) return null;
  const { record } = after;
  const sections =
    before.record === null || record === null ? null : compareRecords(before.record, record);
  return { title: after.publication.title, reason: record?.reason ?? '', sections };
}

export type PublishedFile = Readonly<{
  /** Where it lies: a data package is too large to be held in memory. */
  place: string;
  bytes: number;
  mediaType: string;
  sha256: string;
  /** What the file is called once it is saved. */
  downloadName: string;
}>;

/** @returns null where there is no such file, or its bytes are not those that were published */
export async function loadPublishedFile(
  number: number,
  revision: number,
  name: string,
): Promise<PublishedFile | null> {
  const publication = await loadPublication(number, revision);
  const row = publication?.files.find((file) => file.name === name);
  if (publication === null || row === undefined) return null;
  const place = path.join(publishedRoot(), publication.folder, name);
  if (!(await pathExists(place))) return null;
  const { sha256, bytes } = await hashFile(place);
  if (sha256 !== row.sha256) return null;
  const downloadName = publishedName(name, { number, revision });
  return { place, bytes, mediaType: row.mediaType, sha256, downloadName };
}

/** A positive whole number from an address; null for anything else. */
export function readCount(text: string): number | null {
  return /^[1-9][0-9]{0,8}$/.test(text) ? Number(text) : null;
}
