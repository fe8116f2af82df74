/** A file of a session that is being replaced at the moment. */
import { cache } from 'react';
import { z } from 'zod';
import { localActor } from '../actor';
import { db } from '../db';

const replacedFile = z.object({ file: z.string() });

/** @returns the file and the job that reads it; null where none is open */
export const loadReplacement = cache(
  async (sessionId: string): Promise<Readonly<{ file: string; jobId: string }> | null> => {
    const job = await db().job.findFirst({
      where: {
        sessionId,
        teamId: localActor().teamId,
        kind: 'replace',
        state: { in: ['waiting', 'running'] },
      },
      orderBy: { createdAt: 'desc' },
      select: { id: true, input: true },
    });
    return job === null
      ? null
      : { jobId: job.id, file: replacedFile.parse(JSON.parse(job.input)).file };
  },
);
