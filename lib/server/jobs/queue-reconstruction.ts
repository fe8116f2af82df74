/** Asks for a session's reconstruction to be computed again, once however often it is asked. */
import type { Actor } from '../actor';
import type { Transaction } from '../db';
import { newId } from '../new-id';
import { toJson } from '../rows';

type Asked = Readonly<{ tx: Transaction; actor: Actor }>;

/**
 * @returns the job: one that waits already reads what has just been written when its turn comes; one
 * that runs has read its inputs, so another waits behind it
 */
export async function queueReconstruction(
  { tx, actor }: Asked,
  sessionId: string,
): Promise<string> {
  const where = { sessionId, kind: 'reconstruct', state: 'waiting' };
  const waiting = await tx.job.findFirst({ where, select: { id: true } });
  if (waiting !== null) return waiting.id;
  const id = newId();
  await tx.job.create({
    data: {
      id,
      teamId: actor.teamId,
      sessionId,
      kind: 'reconstruct',
      state: 'waiting',
      stage: 'Waiting',
      input: toJson({ sessionId }),
    },
    select: { id: true },
  });
  return id;
}
