/** What people said of a session's clocks. */
import { cache } from 'react';
import { z } from 'zod';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import { localActor } from '../actor';
import { db } from '../db';
import { parseJson } from '../rows';

export type KeptCorrection = Readonly<{
  id: string;
  version: number;
  correction: ClockCorrection;
  author: string;
  createdAtIso: string;
  /** null while it counts. */
  undone: Readonly<{ by: string; atIso: string }> | null;
}>;

const said = { by: z.string().nullable(), reason: z.string().nullable() };
const place = { source: z.string(), line: z.number(), nth: z.number() };

const correctionSchema: z.ZodType<ClockCorrection> = z.union([
  z.object({ kind: z.enum(['accept', 'reject']), ...place, ...said }),
  z.object({
    kind: z.literal('correct'),
    ...place,
    quantity: z.enum(['range', 'rate']),
    saidSi: z.number(),
    ...said,
  }),
  z.object({
    kind: z.literal('tie-point'),
    source: z.string(),
    sourceS: z.number(),
    sessionS: z.number(),
    sdS: z.number(),
    ...said,
  }),
]);

/** Corrections of a session in the order in which they were made, the undone ones too. */
export async function readCorrections(sessionId: string): Promise<readonly KeptCorrection[]> {
  const rows = await db().correction.findMany({
    where: { sessionId, kind: 'clock', session: { teamId: localActor().teamId } },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    select: {
      id: true,
      version: true,
      body: true,
      author: true,
      createdAt: true,
      undoneAt: true,
      undoneBy: true,
    },
  });
  return rows.map(({ id, version, body, author, createdAt, undoneAt, undoneBy }) => ({
    id,
    version,
    correction: parseJson(correctionSchema, body),
    author,
    createdAtIso: createdAt.toISOString(),
    undone: undoneAt === null ? null : { by: undoneBy ?? author, atIso: undoneAt.toISOString() },
  }));
}

export const loadCorrections = cache(readCorrections);

/** Those that count now, as the reconstruction takes them. */
export async function standingCorrections(sessionId: string): Promise<readonly ClockCorrection[]> {
  const all = await readCorrections(sessionId);
  return all.filter(({ undone }) => undone === null).map(({ correction }) => correction);
}
