/** Looks through everything the program keeps and names what is half, orphaned or changed. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { publishedRoot, samplesRoot, sessionsRoot, uploadsRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { originalFolder, readStoredInput } from '@/lib/server/jobs/session-files';
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

async function sessionProblems(): Promise<{ problems: string[]; folders: Set<string> }> {
  const sessions = await db().session.findMany({
    select: {
      id: true,
      filesNumber: true,
      planVersionId: true,
      ruleSetVersionId: true,
      sources: { select: { file: true, type: true, folder: true, sha256: true, entries: true } },
      reconstructions: { select: { derivedFolder: true, body: true } },
    },
  });
  const problems: string[] = [];
  const folders = new Set<string>();
  for (const session of sessions) {
    const stored = await readStoredInput(session).catch(() => null);
    if (stored === null) problems.push(`session ${session.id} has no readable input`);
    if (stored?.sources.length !== session.sources.length) problems.push('sources differ');
    if (session.planVersionId === null || session.ruleSetVersionId === null)
      problems.push(`session ${session.id} lost its plan or its rules`);
    if (session.reconstructions.length === 0) problems.push('a session without reconstruction');
    for (const { derivedFolder, body } of session.reconstructions) {
      JSON.parse(body);
      folders.add(derivedFolder);
      problems.push(...(await sampleProblems(derivedFolder, 'reconstruction')));
    }
    for (const source of session.sources) {
      const file = path.join(originalFolder(session), source.file);
      if (fileSha256(file) !== source.sha256) problems.push(`${source.file} is not as it came`);
      if (source.type === 'events' && source.entries.length === 0)
        problems.push(`${source.file} has no entries`);
      if (source.type !== 'telemetry') continue;
      folders.add(source.folder);
      problems.push(...(await sampleProblems(source.folder, source.file)));
    }
  }
  const known = new Set(sessions.map(({ id }) => id));
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
  for (const name of namesIn(uploadsRoot())) problems.push(`uploads/${name} is left`);
  const open = await db().job.count({ where: { state: { in: ['waiting', 'running'] } } });
  if (open > 0) problems.push(`${open} jobs neither ended nor running`);
  return [...(await databaseProblems()), ...problems, ...(await publicationProblems())];
}
