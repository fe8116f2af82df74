/** What people said of a session: with its folder, and here since. */
import { cache } from 'react';
import { z } from 'zod';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import type { HandlingRating, HandlingTask } from '@/lib/core/session/handling-words';
import type { PhaseEdit } from '@/lib/core/session/phase-edit';
import type { PeopleFile } from '@/lib/core/session/read-people-file';
import type { RuleDisposition } from '@/lib/core/session/rule-disposition';
import type { StretchCorrection } from '@/lib/core/session/stretch-correction';
import { wordsKey } from '@/lib/core/session/words-key';
import type { KeptWord } from '@/lib/view/clock/correction-list';
import { localActor } from '../actor';
import type { CorrectionKind } from '../correction-kind';
import { db } from '../db';
import type { WordsSince } from '../jobs/stored-input';
import { phaseEditSchema } from '../phase-edit-rows';
import { parseJson } from '../rows';
import { type RunSession, runSessionSchema } from '../run-sessions';
import { loadFolderPeople } from './load-folder-people';
import { withFolderWords } from './with-folder-words';

export type KeptCorrection<Said = ClockCorrection> = KeptWord<Said>;

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

type ByPerson = Readonly<{ by: string | null; reason: string | null }>;

type Kind<Said> = Readonly<{
  kind: CorrectionKind;
  schema: z.ZodType<Said>;
}>;

const CLOCK = { kind: 'clock', schema: correctionSchema } as const;
const STRETCH = { kind: 'stretch', schema: stretchSchema } as const;
const PHASE = { kind: 'phase', schema: phaseEditSchema } as const;
const RULE = { kind: 'rule', schema: dispositionSchema } as const;
const TASK = { kind: 'task', schema: taskSchema } as const;
const RATING = { kind: 'rating', schema: ratingSchema } as const;

/** Those that have a row, in the order in which they were made. */
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
      ofFolder: true,
      createdAt: true,
      undoneAt: true,
      undoneBy: true,
    },
  });
  return rows.map(({ id, version, body, author, ofFolder, createdAt, undoneAt, undoneBy }) => ({
    id,
    version,
    correction: parseJson(schema, body),
    author,
    createdAtIso: ofFolder ? null : createdAt.toISOString(),
    undone: undoneAt === null ? null : { by: undoneBy ?? author, atIso: undoneAt.toISOString() },
  }));
}

/** What came with the folder, then what was said here; words that are both stand once. */
async function readAll<Said extends ByPerson>(
  sessionId: string,
  kind: Kind<Said>,
  wordsOf: (people: PeopleFile) => readonly Said[] | undefined,
): Promise<readonly KeptCorrection<Said>[]> {
  const rows = await readKept(sessionId, kind);
  const people = await loadFolderPeople(sessionId);
  return withFolderWords(rows, { kind: kind.kind, words: wordsOf(people) ?? [] });
}

/** Clock corrections: the folder's, then those made here in their order, the undone ones too. */
export const loadCorrections = cache(
  (sessionId: string): Promise<readonly KeptCorrection[]> =>
    readAll(sessionId, CLOCK, ({ clockCorrections }) => clockCorrections),
);

/** As `loadCorrections`, for stretches of channels that are kept or left out. */
export const loadStretchCorrections = cache(
  (sessionId: string): Promise<readonly KeptCorrection<StretchCorrection>[]> =>
    readAll(sessionId, STRETCH, ({ stretchCorrections }) => stretchCorrections),
);

/** As `loadCorrections`, for edges moved, runs split or given to a step, and contact declared. */
export const loadPhaseEdits = cache(
  (sessionId: string): Promise<readonly KeptCorrection<PhaseEdit>[]> =>
    readAll(sessionId, PHASE, ({ phaseEdits }) => phaseEdits),
);

/** As `loadCorrections`, for rules that were waived or amended. */
export const loadDispositions = cache(
  (sessionId: string): Promise<readonly KeptCorrection<RuleDisposition>[]> =>
    readAll(sessionId, RULE, ({ ruleDispositions }) => ruleDispositions),
);

/** As `loadCorrections`, for tasks that were flown by hand. */
export const loadHandlingTasks = cache(
  (sessionId: string): Promise<readonly KeptCorrection<HandlingTask>[]> =>
    readAll(sessionId, TASK, ({ handlingTasks }) => handlingTasks),
);

/** As `loadCorrections`, for ratings of tasks. */
export const loadHandlingRatings = cache(
  (sessionId: string): Promise<readonly KeptCorrection<HandlingRating>[]> =>
    readAll(sessionId, RATING, ({ handlingRatings }) => handlingRatings),
);

/** Other sessions that a session is held against, the undone ones too. */
export const loadRunSessions = cache(
  (sessionId: string): Promise<readonly KeptCorrection<RunSession>[]> =>
    readKept(sessionId, { kind: 'run-session', schema: runSessionSchema }),
);

function standing<Said>(kept: readonly KeptCorrection<Said>[]): readonly Said[] {
  return kept.filter(({ undone }) => undone === null).map(({ correction }) => correction);
}

/** What was said here, as the reconstruction takes it: what counts now, and what was undone. */
export async function loadWordsSince(sessionId: string): Promise<WordsSince> {
  const clock = await readKept(sessionId, CLOCK);
  const stretches = await readKept(sessionId, STRETCH);
  const edits = await readKept(sessionId, PHASE);
  const rules = await readKept(sessionId, RULE);
  const tasks = await readKept(sessionId, TASK);
  const ratings = await readKept(sessionId, RATING);
  const all = [...clock, ...stretches, ...edits, ...rules, ...tasks, ...ratings];
  return {
    standing: {
      clockCorrections: standing(clock),
      stretchCorrections: standing(stretches),
      ...filled('phaseEdits', standing(edits)),
      ...filled('ruleDispositions', standing(rules)),
      ...filled('handlingTasks', standing(tasks)),
      ...filled('handlingRatings', standing(ratings)),
    },
    undone: all
      .filter(({ undone }) => undone !== null)
      .map(({ correction }) => wordsKey(correction)),
  };
}

function filled<Name extends string, Said>(name: Name, said: readonly Said[]) {
  return (said.length === 0 ? {} : { [name]: said }) as Partial<Record<Name, readonly Said[]>>;
}
