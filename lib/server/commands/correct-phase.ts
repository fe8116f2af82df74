/** A person's word about phases: an edge moved, a run split or given to a step, contact declared. */
import { z } from 'zod';
import { phaseEditFault } from '@/lib/core/reconstruction/check-phase-edit';
import { DomainError } from '@/lib/core/result';
import type { PhaseEdit } from '@/lib/core/session/phase-edit';
import { wordsKey } from '@/lib/core/session/words-key';
import { phaseEditSchema } from '../phase-edit-rows';
import { parseJson, reconstructionFromBody } from '../rows';
import { requireSession } from './anchor-input';
import { reasonInput, secondsInput } from './correction-input';
import { type CommandContext, defineCommand } from './define-command';
import { keepCorrection } from './keep-correction';

const HOUR_S = 3_600;
const motion = z.enum(['hold', 'closing', 'opening', 'crossing']);
const sd = z
  .number('A number is needed.')
  .positive('More than 0 is needed.')
  .max(HOUR_S, `At most ${HOUR_S} s.`);
const reason = reasonInput;

/** The bounds of people.yaml: what is kept here can be written there and read back. */
const wordInput = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('move-edge'),
    edgeS: secondsInput,
    before: motion,
    after: motion,
    toS: secondsInput,
    sdS: sd.nullable(),
    reason,
  }),
  z.object({
    kind: z.literal('split-run'),
    motion,
    atS: secondsInput,
    sdS: sd.nullable(),
    reason,
  }),
  z.object({
    kind: z.literal('name-run'),
    motion,
    fromS: secondsInput,
    toS: secondsInput,
    step: z.string().min(1).max(400).nullable(),
    reason,
  }),
  z.object({
    kind: z.literal('contact'),
    atS: secondsInput,
    sdS: sd,
    basis: z.string().trim().min(1, 'What it rests on is needed.').max(2_000),
    reason,
  }),
]);

const input = z.object({
  sessionId: z.string().min(1),
  /** Sum of the versions of all corrections of phases, as the person saw them. */
  version: z.int(),
  word: wordInput,
});

const COLUMNS = {
  version: true,
  body: true,
  author: true,
  undoneAt: true,
  undoneBy: true,
} as const;

/** Corrections of the session's phases in the order in which they were made, the undone ones too. */
async function readRows({ tx }: CommandContext, sessionId: string) {
  const rows = await tx.correction.findMany({
    where: { sessionId, kind: 'phase' },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    select: COLUMNS,
  });
  return rows.map(({ body, ...row }) => ({ ...row, edit: parseJson(phaseEditSchema, body) }));
}

/** One that does not fit what stands, or what was last computed, is refused. */
async function requireFitting(
  context: CommandContext,
  sessionId: string,
  next: PhaseEdit,
): Promise<void> {
  const newest = await context.tx.reconstruction.findFirst({
    where: { sessionId },
    orderBy: { createdAt: 'desc' },
    select: { body: true },
  });
  if (newest === null) {
    throw new DomainError('not-reconstructed', 'The session was not reconstructed yet.');
  }
  const reconstruction = reconstructionFromBody(newest.body);
  const rows = await readRows(context, sessionId);
  // Those that came with the folder are no rows: they stand in what was computed.
  const ofFolder = (reconstruction.phaseEdits?.results ?? [])
    .map(({ edit }) => edit)
    .filter((edit) => !rows.some((row) => wordsKey(row.edit) === wordsKey(edit)));
  const made = rows.filter(({ undoneAt }) => undoneAt === null).map(({ edit }) => edit);
  const fault = phaseEditFault(reconstruction, [...ofFolder, ...made], next);
  if (fault === null) return;
  const sentence = `${fault.charAt(0).toUpperCase()}${fault.slice(1)}.`;
  throw new DomainError('does-not-fit', sentence);
}

export const correctPhase = defineCommand({
  name: 'correct-phase',
  input,
  may: () => true,
  version: {
    expected: ({ version }) => version,
    load: async (context, { sessionId }) => {
      const rows = await readRows(context, sessionId);
      const authors = rows.map(({ undoneBy, author }) => undoneBy ?? author);
      const version = rows.reduce((sum, row) => sum + row.version, 0);
      return { version, value: { version, by: authors.at(-1) ?? null } };
    },
  },
  run: async (context, { sessionId, word }): Promise<Readonly<{ id: string; jobId: string }>> => {
    await requireSession(context, sessionId);
    const correction: PhaseEdit = { ...word, by: context.actor.name };
    await requireFitting(context, sessionId, correction);
    return keepCorrection(context, { sessionId, kind: 'phase', correction });
  },
});
