/** What a person says of a session is kept, and everything behind it computed again. */
import type { CorrectionKind } from '../correction-kind';
import { wakeQueue } from '../jobs/queue';
import { queueReconstruction } from '../jobs/queue-reconstruction';
import { newId } from '../new-id';
import { toJson } from '../rows';
import type { CommandContext } from './define-command';

type Said = Readonly<{
  sessionId: string;
  kind: CorrectionKind;
  correction: unknown;
}>;

/** @returns the row, and the job that computes with it */
export async function keepCorrection(
  context: CommandContext,
  { sessionId, kind, correction }: Said,
): Promise<Readonly<{ id: string; jobId: string }>> {
  const { tx, actor, now } = context;
  const id = newId();
  const body = toJson(correction);
  await tx.correction.create({
    data: { id, sessionId, kind, body, author: actor.name, createdAt: now },
    select: { id: true },
  });
  const jobId = await queueReconstruction(context, sessionId);
  context.afterCommit(wakeQueue);
  return { id, jobId };
}
