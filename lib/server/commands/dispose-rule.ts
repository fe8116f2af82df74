/** A person's word on what was decided about a rule: waived, or amended. Its verdict stays. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import type { LogPlace, RuleDisposition } from '@/lib/core/session/rule-disposition';
import { requireSession } from './anchor-input';
import { type CommandContext, defineCommand } from './define-command';
import { keepCorrection } from './keep-correction';

const seconds = z.number('A time is needed.').min(-1e9).max(1e9);

const input = z
  .object({
    sessionId: z.string().min(1),
    rule: z.string().min(1, 'A rule is needed.').max(400),
    disposition: z.enum(['waived', 'amended']),
    givenBy: z.string().trim().min(1, 'Who decided it is needed.').max(400),
    atS: seconds.nullable(),
    entry: z.object({ source: z.string().min(1).max(400), line: z.int().min(1) }).nullable(),
    amendedTo: z.string().trim().min(1).max(2_000).nullable(),
    reason: z.string().trim().min(1, 'A reason is needed.').max(2_000),
  })
  .refine(({ disposition, amendedTo }) => disposition === 'waived' || amendedTo !== null, {
    message: 'The words that were to hold instead are needed.',
    path: ['amendedTo'],
  });

/** Refuses a log that the session does not have, and a line of it that holds no entry. */
async function requireEntry(
  { tx }: CommandContext,
  sessionId: string,
  { source, line }: LogPlace,
): Promise<void> {
  const where = { sessionId, file: source, type: 'events', superseded: null };
  const log = await tx.sourceVersion.findFirst({ where, select: { id: true } });
  if (log === null) {
    throw new DomainError('no-such-source', `${source} is no log of this session.`);
  }
  if ((await tx.logEntry.count({ where: { sourceVersionId: log.id, line } })) === 0) {
    throw new DomainError('no-such-entry', `${source} has no entry on line ${line}.`);
  }
}

export const disposeRule = defineCommand({
  name: 'dispose-rule',
  input,
  may: () => true,
  run: async (context, word): Promise<Readonly<{ id: string; jobId: string }>> => {
    const { sessionId, entry, ...said } = word;
    await requireSession(context, sessionId);
    if (entry !== null) await requireEntry(context, sessionId, entry);
    const correction: RuleDisposition = {
      ...said,
      amendedTo: said.disposition === 'waived' ? null : said.amendedTo,
      entry,
      by: context.actor.name,
    };
    return keepCorrection(context, { sessionId, kind: 'rule', correction });
  },
});
