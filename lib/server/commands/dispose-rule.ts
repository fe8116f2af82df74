/** A person's word on what was decided about a rule: waived, or amended. Its verdict stays. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import type { RuleDisposition } from '@/lib/core/session/rule-disposition';
import { requireSession } from './anchor-input';
import { defineCommand } from './define-command';
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

export const disposeRule = defineCommand({
  name: 'dispose-rule',
  input,
  may: () => true,
  run: async (context, word): Promise<Readonly<{ id: string; jobId: string }>> => {
    const { sessionId, entry, ...said } = word;
    await requireSession(context, sessionId);
    if (entry !== null) {
      const where = { sessionId, file: entry.source, type: 'events', superseded: null };
      if ((await context.tx.sourceVersion.count({ where })) === 0) {
        throw new DomainError('no-such-source', `${entry.source} is no log of this session.`);
      }
    }
    const correction: RuleDisposition = {
      ...said,
      amendedTo: said.disposition === 'waived' ? null : said.amendedTo,
      entry,
      by: context.actor.name,
    };
    return keepCorrection(context, { sessionId, kind: 'rule', correction });
  },
});
