/** Long work as its screens show it. */
import { cache } from 'react';
import { z } from 'zod';
import type { Issue } from '@/lib/core/result';
import { localActor } from '../actor';
import { db } from '../db';

export const JOB_KINDS = ['import', 'replace', 'reconstruct', 'publish', 'demo', 'trial'] as const;
export type JobKind = (typeof JOB_KINDS)[number];

export const JOB_STATES = ['waiting', 'running', 'done', 'failed', 'cancelled'] as const;
export type JobState = (typeof JOB_STATES)[number];

/** What a job came to: the session it made or found, or the issues that stopped it. */
export type JobResult = Readonly<{
  sessionId: string | null;
  /** True when the same folder had been imported before and `sessionId` is that session. */
  wasThere: boolean;
  issues: readonly Issue[];
  /** The upload that a person is asked to describe before it can be imported. */
  describe?: string;
  /** How sessions would read with a draft; its own screen reads it. */
  trial?: unknown;
}>;

export type JobView = Readonly<{
  id: string;
  kind: JobKind;
  state: JobState;
  /** In words, for a person: `reading telemetry.csv`. */
  stage: string;
  bytesDone: number;
  bytesTotal: number;
  rowsDone: number;
  sessionId: string | null;
  cancelRequested: boolean;
  result: JobResult | null;
  createdAtIso: string;
  startedAtIso: string | null;
  endedAtIso: string | null;
}>;

const issueSchema: z.ZodType<Issue> = z.object({
  code: z.string(),
  severity: z.enum(['error', 'warning', 'note']),
  message: z.string(),
  file: z.exactOptional(z.string()),
  keyPath: z.exactOptional(z.string()),
  line: z.exactOptional(z.number()),
  expected: z.exactOptional(z.string()),
  received: z.exactOptional(z.string()),
});

const resultSchema: z.ZodType<JobResult> = z.object({
  sessionId: z.string().nullable(),
  wasThere: z.boolean(),
  issues: z.array(issueSchema),
  describe: z.exactOptional(z.string()),
});

/** A job's `result` column. */
export function jobResultFromJson(text: string): JobResult {
  return resultSchema.parse(JSON.parse(text));
}

const COLUMNS = {
  id: true,
  kind: true,
  state: true,
  stage: true,
  bytesDone: true,
  bytesTotal: true,
  rowsDone: true,
  sessionId: true,
  cancelRequested: true,
  result: true,
  createdAt: true,
  startedAt: true,
  endedAt: true,
} as const;

type Row = Readonly<{
  id: string;
  kind: string;
  state: string;
  stage: string;
  bytesDone: bigint;
  bytesTotal: bigint;
  rowsDone: bigint;
  sessionId: string | null;
  cancelRequested: boolean;
  result: string | null;
  createdAt: Date;
  startedAt: Date | null;
  endedAt: Date | null;
}>;

function jobFromRow(row: Row): JobView {
  return {
    id: row.id,
    kind: z.enum(JOB_KINDS).parse(row.kind),
    state: z.enum(JOB_STATES).parse(row.state),
    stage: row.stage,
    bytesDone: Number(row.bytesDone),
    bytesTotal: Number(row.bytesTotal),
    rowsDone: Number(row.rowsDone),
    sessionId: row.sessionId,
    cancelRequested: row.cancelRequested,
    result: row.result === null ? null : jobResultFromJson(row.result),
    createdAtIso: row.createdAt.toISOString(),
    startedAtIso: row.startedAt?.toISOString() ?? null,
    endedAtIso: row.endedAt?.toISOString() ?? null,
  };
}

/** One job, read afresh: progress is polled within one request. */
export async function readJob(jobId: string): Promise<JobView | null> {
  const where = { id: jobId, teamId: localActor().teamId };
  const row = await db().job.findFirst({ where, select: COLUMNS });
  return row === null ? null : jobFromRow(row);
}

export const loadJob = cache(readJob);

/** Work that somebody asked for and that waits or runs, oldest first. */
export const loadOpenJobs = cache(async (): Promise<JobView[]> => {
  const rows = await db().job.findMany({
    where: {
      teamId: localActor().teamId,
      state: { in: ['waiting', 'running'] },
      kind: { notIn: ['reconstruct', 'trial'] }, // the session, or the editor, says so itself
    },
    orderBy: { createdAt: 'asc' },
    select: COLUMNS,
  });
  return rows.map(jobFromRow);
});

/** True while an import that waits or runs is to read this upload. */
export async function isUploadInUse(uploadId: string): Promise<boolean> {
  const open = { state: { in: ['waiting', 'running'] }, input: { contains: `"${uploadId}"` } };
  return (await db().job.count({ where: { teamId: localActor().teamId, ...open } })) > 0;
}
