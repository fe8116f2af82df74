/** Uploads that wait for a person to say what their files are. */
import { localActor } from '../actor';
import { db } from '../db';
import { OPEN_STATES } from '../jobs/cancel-work';
import { readUploadSketch } from '../uploads/upload-sketch';
import { jobResultFromJson } from './load-job';

export type OpenDescription = Readonly<{
  uploadId: string;
  files: readonly string[];
  /** When it was asked for. */
  askedAtIso: string;
}>;

/** How many ended imports are looked through. */
const MOST_LOOKED_THROUGH = 100;

/** @returns the newest first; an upload that is gone or being imported is none */
export async function loadOpenDescriptions(): Promise<readonly OpenDescription[]> {
  const { teamId } = localActor();
  const asked = await db().job.findMany({
    where: { teamId, kind: 'import', result: { contains: '"describe":' } },
    orderBy: { createdAt: 'desc' },
    take: MOST_LOOKED_THROUGH,
    select: { result: true, createdAt: true },
  });
  const running = await db().job.findMany({
    where: { teamId, kind: 'import', state: { in: OPEN_STATES } },
    select: { input: true },
  });
  const found = new Map<string, OpenDescription>();
  for (const { result, createdAt } of asked) {
    const uploadId = jobResultFromJson(result ?? '').describe;
    if (uploadId === undefined || found.has(uploadId)) continue;
    if (running.some(({ input }) => input.includes(`"${uploadId}"`))) continue;
    const sketch = await readUploadSketch(uploadId);
    if (sketch === null) continue;
    const files = sketch.files.map(({ file }) => file);
    found.set(uploadId, { uploadId, files, askedAtIso: createdAt.toISOString() });
  }
  return [...found.values()];
}

/** What became of an upload that is not here any more. */
export type GoneUpload = Readonly<{ jobId: string; sessionId: string | null }>;

/** @returns the newest import of it; null where nobody imported it */
export async function loadGoneUpload(uploadId: string): Promise<GoneUpload | null> {
  const job = await db().job.findFirst({
    where: {
      teamId: localActor().teamId,
      kind: 'import',
      input: { contains: `"${uploadId}"` },
    },
    orderBy: { createdAt: 'desc' },
    select: { id: true, sessionId: true },
  });
  return job === null ? null : { jobId: job.id, sessionId: job.sessionId };
}
