/** Keeps strips and axis of the timeline under a name, for the whole team. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { newId } from '../new-id';
import { ARRANGEMENT_COLUMNS, type Arrangement } from '../queries/load-arrangements';
import { type CommandContext, defineCommand } from './define-command';

export const arrangementName = z
  .string()
  .trim()
  .min(1, 'An arrangement needs a name.')
  .max(80, 'At most 80 characters.');

const MOST_QUERY_CHARACTERS = 8_000;
const KEPT_KEYS = ['strips', 'axis'];

/** The part of an address that can be kept: strips and axis, no stretch of one session. */
export const arrangementQuery = z
  .string()
  .min(1, 'There is nothing to keep.')
  .max(MOST_QUERY_CHARACTERS, 'This arrangement is too long to be kept.')
  .refine(
    (query) => [...new URLSearchParams(query).keys()].every((key) => KEPT_KEYS.includes(key)),
    'An arrangement holds strips and axis only.',
  );

const MOST_KEPT = 200;

/** Refuses a name that another kept arrangement has; big and small letters are alike. */
export async function requireFreeName(
  { tx, actor }: CommandContext,
  name: string,
  own: string | null,
): Promise<void> {
  const kept = await tx.arrangement.findMany({
    where: { teamId: actor.teamId, removedAt: null },
    select: { id: true, name: true },
  });
  const wanted = name.toLowerCase();
  if (kept.some((each) => each.id !== own && each.name.toLowerCase() === wanted))
    throw new DomainError('name-taken', `An arrangement is called "${name}" already.`);
  if (own === null && kept.length >= MOST_KEPT)
    throw new DomainError('too-many', `At most ${MOST_KEPT} arrangements are kept.`);
}

export const keepArrangement = defineCommand({
  name: 'keep-arrangement',
  input: z.object({ name: arrangementName, query: arrangementQuery }),
  may: () => true,
  run: async (context, { name, query }): Promise<Arrangement> => {
    await requireFreeName(context, name, null);
    const { actor, now } = context;
    return context.tx.arrangement.create({
      data: {
        id: newId(),
        teamId: actor.teamId,
        name,
        query,
        author: actor.name,
        createdAt: now,
      },
      select: ARRANGEMENT_COLUMNS,
    });
  },
});
