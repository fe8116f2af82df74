/** How sessions would read with a draft, as a job kept it. */
import { cache } from 'react';
import { z } from 'zod';
import { localActor } from '../actor';
import { db } from '../db';
import { fromJson } from '../rows';
import type { Trial } from '../trials/trial-result';

export type KeptTrial = Readonly<{ jobId: string; createdAtIso: string; trial: Trial }>;

const head = z.looseObject({
  trial: z.looseObject({ sha256: z.string(), sessions: z.array(z.looseObject({})) }),
});

/** @returns null where the job came to nothing */
export function jobTrial(
  row: Readonly<{ id: string; createdAt: Date; result: string | null }>,
): KeptTrial | null {
  if (row.result === null) return null;
  const value = fromJson(row.result);
  if (!head.safeParse(value).success) return null;
  const { trial } = value as Readonly<{ trial: Trial }>;
  return { jobId: row.id, createdAtIso: row.createdAt.toISOString(), trial };
}

export const loadTrial = cache(async (jobId: string): Promise<KeptTrial | null> => {
  const where = { id: jobId, teamId: localActor().teamId, kind: 'trial' };
  const select = { id: true, createdAt: true, result: true } as const;
  const row = await db().job.findFirst({ where, select });
  return row === null ? null : jobTrial(row);
});
