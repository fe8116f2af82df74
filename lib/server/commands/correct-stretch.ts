/** A person's word about a stretch of a channel: used although it looks faulty, or left out. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import type { StretchCorrection } from '@/lib/core/session/stretch-correction';
import { requireSession } from './anchor-input';
import { defineCommand } from './define-command';
import { keepCorrection } from './keep-correction';

const seconds = z.number('A time is needed.').min(-1e9).max(1e9);

const input = z.object({
  sessionId: z.string().min(1),
  source: z.string().min(1).max(400),
  channel: z.string().min(1, 'A column is needed.').max(400),
  fromS: seconds,
  toS: seconds,
  use: z.enum(['keep', 'leave-out']),
  reason: z.string().trim().min(1, 'A reason is needed.').max(2_000),
});

export const correctStretch = defineCommand({
  name: 'correct-stretch',
  input,
  may: () => true,
  run: async (context, word): Promise<Readonly<{ id: string; jobId: string }>> => {
    const { sessionId, ...said } = word;
    if (said.toS < said.fromS) {
      throw new DomainError('stretch-backwards', 'The stretch ends before it starts.');
    }
    await requireSession(context, sessionId);
    const where = { sessionId, file: said.source, type: 'telemetry', superseded: null };
    const source = await context.tx.sourceVersion.findFirst({ where, select: { id: true } });
    if (source === null) {
      throw new DomainError('no-such-source', `${said.source} is no telemetry of this session.`);
    }
    const correction: StretchCorrection = { ...said, by: context.actor.name };
    return keepCorrection(context, { sessionId, kind: 'stretch', correction });
  },
});
