/** Looks through everything the program keeps and names what is half, orphaned or changed. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { publishedRoot, samplesRoot, sessionsRoot, uploadsRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import {
  editionName,
  originalFolder,
  readStoredInput,
  type SessionEdition,
} from '@/lib/server/jobs/session-files';
import { loadCorrections } from '@/lib/server/queries/load-corrections';
import { verifyFolder } from '@/lib/server/samples/verify-folder';

const namesIn = (root: string): string[] => (existsSync(root) ? readdirSync(root).sort() : []);

function fileSha256(file: string): string {
  if (!existsSync(file)) return 'missing';
  return createHash('sha256').update(readFileSync(file)).digest('hex');
}

async function databaseProblems(): Promise<string[]> {
  const check = await db().$queryRawUnsafe<{ integrity_check: string }[]>('PRAGMA integrity_check');
  const keys = await db().$queryRawUnsafe<unknown[]>('PRAGMA foreign_key_check');
  const problems = check.map((row) => row.integrity_check).filter((text) => text !== 'ok');
  return [
    ...problems.map((text) => `database: ${text}`),
    ...(keys.length === 0 ? [] : [`database: ${keys.length} broken references`]),
  ];
}

async function sampleProblems(folder: string, owner: string): Promise<string[]> {
  if (folder === '') return [`${owner} names no samples`];
  const issues = await verifyFolder(samplesRoot(), folder);
  return issues.map((issue) => `${owner}: ${issue.file ?? folder} ${issue.message}`);
}

const SESSION_COLUMNS = {
  id: true,
  filesNumber: true,
  planVersionId: true,
  ruleSetVersionId: true,
  sources: {
    select: {
      file: true,
      type: true,
      folder: true,
      sha256: true,
      entries: { select: { id: true }, take: 1 },
      superseded: { select: { id: true } },
    },
  },
  reconstructions: { select: { derivedFolder: true, body: true } },
} as const;

type Source = Readonly<{
  file: string;
  type: string;
  folder: string;
  sha256: string;
  entries: readonly unknown[];
  /** The version that took its place. */
  superseded: unknown;
}>;

/** A file's present version must lie in the present edition, an earlier one in an edition before. */
function fileProblems({ id, filesNumber }: SessionEdition, source: Source): string[] {
  const isIn = (number: number): boolean =>
    fileSha256(path.join(originalFolder({ id, filesNumber: number }), source.file)) ===
    source.sha256;
  const editions = Array.from({ length: filesNumber }, (_, before) => before + 1);
  const searched = source.superseded === null ? [filesNumber] : editions.slice(0, -1);
  const problems = searched.some(isIn) ? [] : [`${source.file} is not as it came`];
  if (source.type === 'events' && source.entries.length === 0)
    problems.push(`${source.file} has no entries`);
  return problems;
}

async function sessionProblems(): Promise<{ problems: string[]; folders: Set<string> }> {
  const sessions = await db().session.findMany({ select: SESSION_COLUMNS });
  const problems: string[] = [];
  const folders = new Set<string>();
  const known = new Set<string>();
  for (const session of sessions) {
    const { id, filesNumber } = session;
    for (let number = 1; number <= filesNumber; number += 1)
      known.add(editionName({ id, filesNumber: number }));
    const stored = await readStoredInput(session).catch(() => null);
    if (stored === null) problems.push(`session ${id} has no readable input`);
    await loadCorrections(id).catch(() => problems.push(`session ${id}: unreadable corrections`));
    const present = session.sources.filter(({ superseded }) => superseded === null);
    if (stored?.sources.length !== present.length) problems.push('sources differ');
    if (session.planVersionId === null || session.ruleSetVersionId === null)
      problems.push(`session ${id} lost its plan or its rules`);
    if (session.reconstructions.length === 0) problems.push('a session without reconstruction');
    for (const { derivedFolder, body } of session.reconstructions) {
      JSON.parse(body);
      folders.add(derivedFolder);
      problems.push(...(await sampleProblems(derivedFolder, 'reconstruction')));
    }
    for (const source of session.sources) {
      problems.push(...fileProblems(session, source));
      if (source.type !== 'telemetry') continue;
      folders.add(source.folder);
      problems.push(...(await sampleProblems(source.folder, source.file)));
    }
  }
  for (const name of known)
    if (!existsSync(path.join(sessionsRoot(), name))) problems.push(`sessions/${name} is gone`);
  for (const name of namesIn(sessionsRoot()))
    if (!known.has(name)) problems.push(`sessions/${name} belongs to no session`);
  return { problems, folders };
}

async function publicationProblems(): Promise<string[]> {
  const rows = await db().publication.findMany({
    select: { folder: true, files: { select: { name: true, sha256: true } } },
  });
  const problems: string[] = [];
  const kept = new Set<string>();
  for (const row of rows) {
    if (row.files.length === 0) problems.push(`publication ${row.folder} has no files`);
    for (const file of row.files) {
      kept.add(path.posix.join(row.folder, file.name));
      const place = path.join(publishedRoot(), row.folder, file.name);
      if (fileSha256(place) !== file.sha256) problems.push(`${row.folder}/${file.name} differs`);
    }
  }
  const there = existsSync(publishedRoot())
    ? readdirSync(publishedRoot(), { recursive: true, withFileTypes: true })
    : [];
  for (const entry of there) {
    if (!entry.isFile()) continue;
    const name = path.relative(publishedRoot(), path.join(entry.parentPath, entry.name));
    if (!kept.has(name)) problems.push(`published/${name} belongs to no publication`);
  }
  return problems;
}

/** @returns one sentence for each thing that nobody should ever find; empty when all is whole */
export async function auditStore(): Promise<string[]> {
  const { problems, folders } = await sessionProblems();
  for (const name of namesIn(samplesRoot()))
    if (!folders.has(name)) problems.push(`samples/${name} belongs to nothing`);
  const jobs = await db().job.findMany({ select: { state: true, input: true, result: true } });
  // Work that waits goes on at the next start, and a person may still describe what was sent.
  const isNamed = (name: string): boolean =>
    jobs.some(
      ({ state, input, result }) =>
        (state === 'waiting' && input.includes(`"${name}"`)) ||
        result?.includes(`"describe":"${name}"`),
    );
  for (const name of namesIn(uploadsRoot()))
    if (!isNamed(name)) problems.push(`uploads/${name} is left`);
  const open = jobs.filter(({ state }) => state === 'running').length;
  if (open > 0) problems.push(`${open} jobs neither ended nor running`);
  return [...(await databaseProblems()), ...problems, ...(await publicationProblems())];
}
