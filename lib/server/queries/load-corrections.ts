/** What people said of a session's clocks, and of stretches of its channels. */
import { cache } from 'react';
import { z } from 'zod';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import type { HandlingRating, HandlingTask } from '@/lib/core/session/handling-words';
import type { PhaseEdit } from '@/lib/core/session/phase-edit';
import type { PeopleFile } from '@/lib/core/session/read-people-file';
import type { RuleDisposition } from '@/lib/core/session/rule-disposition';
import type { StretchCorrection } from '@/lib/core/session/stretch-correction';
import { localActor } from '../actor';
import type { CorrectionKind } from '../correction-kind';
import { db } from '../db';
import { phaseEditSchema } from '../phase-edit-rows';
import { parseJson } from '../rows';
import { type RunSession, runSessionSchema } from '../run-sessions';

export type KeptCorrection<Said = ClockCorrection> = Readonly<{
  id: string;
  version: number;
  correction: Said;
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

const stretchSchema: z.ZodType<StretchCorrection> = z.object({
  source: z.string(),
  channel: z.string(),
  fromS: z.number(),
  toS: z.number(),
  use: z.enum(['keep', 'leave-out']),
  ...said,
});

const dispositionSchema: z.ZodType<RuleDisposition> = z.object({
  rule: z.string(),
  disposition: z.enum(['waived', 'amended']),
  givenBy: z.string().nullable(),
  atS: z.number().nullable(),
  entry: z.object({ source: z.string(), line: z.number() }).nullable(),
  amendedTo: z.string().nullable(),
  ...said,
});

const taskSchema: z.ZodType<HandlingTask> = z.object({
  name: z.string(),
  pilot: z.string(),
  fromS: z.number(),
  toS: z.number(),
  quantity: z.string(),
  target: z.number(),
  desired: z.number(),
  adequate: z.number(),
  ...said,
});

const ratingSchema: z.ZodType<HandlingRating> = z.object({
  task: z.string(),
  scale: z.string(),
  answers: z.record(z.string(), z.enum(['yes', 'no'])),
  rating: z.number(),
  load: z.exactOptional(
    z.object({
      mental: z.number(),
      physical: z.number(),
      temporal: z.number(),
      performance: z.number(),
      effort: z.number(),
      frustration: z.number(),
    }),
  ),
  rater: z.string(),
  remark: z.string().nullable(),
  ...said,
});

type Kind<Said> = Readonly<{
  kind: CorrectionKind;
  schema: z.ZodType<Said>;
}>;

async function readKept<Said>(
  sessionId: string,
  { kind, schema }: Kind<Said>,
): Promise<readonly KeptCorrection<Said>[]> {
  const rows = await db().correction.findMany({
    where: { sessionId, kind, session: { teamId: localActor().teamId } },
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
    correction: parseJson(schema, body),
    author,
    createdAtIso: createdAt.toISOString(),
    undone: undoneAt === null ? null : { by: undoneBy ?? author, atIso: undoneAt.toISOString() },
  }));
}

/** Clock corrections of a session in the order in which they were made, the undone ones too. */
export async function readCorrections(sessionId: string): Promise<readonly KeptCorrection[]> {
  return readKept(sessionId, { kind: 'clock', schema: correctionSchema });
}

export const loadCorrections = cache(readCorrections);

/** As `loadCorrections`, for stretches of channels that are kept or left out. */
export const loadStretchCorrections = cache(
  (sessionId: string): Promise<readonly KeptCorrection<StretchCorrection>[]> =>
    readKept(sessionId, { kind: 'stretch', schema: stretchSchema }),
);

/** As `loadCorrections`, for edges moved, runs split or given to a step, and contact declared. */
export const loadPhaseEdits = cache(
  (sessionId: string): Promise<readonly KeptCorrection<PhaseEdit>[]> =>
    readKept(sessionId, { kind: 'phase', schema: phaseEditSchema }),
);

/** As `loadCorrections`, for rules that were waived or amended. */
export const loadDispositions = cache(
  (sessionId: string): Promise<readonly KeptCorrection<RuleDisposition>[]> =>
    readKept(sessionId, { kind: 'rule', schema: dispositionSchema }),
);

/** As `loadCorrections`, for tasks that were flown by hand. */
export const loadHandlingTasks = cache(
  (sessionId: string): Promise<readonly KeptCorrection<HandlingTask>[]> =>
    readKept(sessionId, { kind: 'task', schema: taskSchema }),
);

/** As `loadCorrections`, for other sessions that a session is held against. */
export const loadRunSessions = cache(
  (sessionId: string): Promise<readonly KeptCorrection<RunSession>[]> =>
    readKept(sessionId, { kind: 'run-session', schema: runSessionSchema }),
);

/** As `loadCorrections`, for ratings of tasks. */
export const loadHandlingRatings = cache(
  (sessionId: string): Promise<readonly KeptCorrection<HandlingRating>[]> =>
    readKept(sessionId, { kind: 'rating', schema: ratingSchema }),
);

function standing<Said>(kept: readonly KeptCorrection<Said>[]): readonly Said[] {
  return kept.filter(({ undone }) => undone === null).map(({ correction }) => correction);
}

/** Those that count now, as the reconstruction takes them. */
export async function standingCorrections(sessionId: string): Promise<PeopleFile> {
  const stretches = await readKept(sessionId, { kind: 'stretch', schema: stretchSchema });
  const edits = standing(await readKept(sessionId, { kind: 'phase', schema: phaseEditSchema }));
  const rules = standing(await readKept(sessionId, { kind: 'rule', schema: dispositionSchema }));
  const tasks = standing(await readKept(sessionId, { kind: 'task', schema: taskSchema }));
  const ratings = standing(await readKept(sessionId, { kind: 'rating', schema: ratingSchema }));
  return {
    clockCorrections: standing(await readCorrections(sessionId)),
    stretchCorrections: standing(stretches),
    ...(edits.length === 0 ? {} : { phaseEdits: edits }),
    ...(rules.length === 0 ? {} : { ruleDispositions: rules }),
    ...(tasks.length === 0 ? {} : { handlingTasks: tasks }),
    ...(ratings.length === 0 ? {} : { handlingRatings: ratings }),
  };
}
