/** A person's word about a stretch of a channel: used although it looks faulty, or left out. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import type { StretchCorrection } from '@/lib/core/session/stretch-correction';
import { sessionTimeText } from '@/lib/core/time/session-time-text';
import { reconstructionFromBody } from '../rows';
import { requireSession } from './anchor-input';
import { reasonInput, secondsInput } from './correction-input';
import { type CommandContext, defineCommand } from './define-command';
import { keepCorrection } from './keep-correction';

const input = z.object({
  sessionId: z.string().min(1),
  source: z.string().min(1).max(400),
  channel: z.string().min(1, 'A column is needed.').max(400),
  fromS: secondsInput,
  toS: secondsInput,
  use: z.enum(['keep', 'leave-out']),
  reason: reasonInput,
});

type Stretch = z.infer<typeof input>;

/** A stretch in which the file has no row would be kept and change nothing. */
async function requireCovered(
  { tx }: CommandContext,
  { sessionId, source, fromS, toS }: Stretch,
): Promise<void> {
  const newest = await tx.reconstruction.findFirst({
    where: { sessionId },
    orderBy: { createdAt: 'desc' },
    select: { body: true },
  });
  if (newest === null) return;
  const { sources } = reconstructionFromBody(newest.body);
  const coverage = sources.find(({ file }) => file === source)?.coverage ?? null;
  if (coverage === null || (toS >= coverage[0] && fromS <= coverage[1])) return;
  const ends = coverage.map((timeS) => sessionTimeText(timeS, 1)).join(' to ');
  const message = `${source} covers ${ends} of session time: it has nothing in this stretch.`;
  throw new DomainError('stretch-outside', message);
}

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
    await requireCovered(context, word);
    const correction: StretchCorrection = { ...said, by: context.actor.name };
    return keepCorrection(context, { sessionId, kind: 'stretch', correction });
  },
});
