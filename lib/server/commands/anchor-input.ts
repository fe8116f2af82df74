/** The stretch of a session as a form or a chart sends it. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import type { CommandContext } from './define-command';

export const stretchInput = {
  fromS: z.number('The start of the stretch is needed, in seconds.'),
  toS: z.number('The end of the stretch is needed, in seconds.'),
  channels: z.array(z.string().min(1).max(200)).max(64),
};

/** Refuses a stretch that ends before it starts. */
export function requireForward(stretch: Readonly<{ fromS: number; toS: number }>): void {
  if (stretch.toS >= stretch.fromS) return;
  throw new DomainError(
    'stretch-backwards',
    `The stretch ends at ${stretch.toS} s, before it starts at ${stretch.fromS} s.`,
  );
}

/** Refuses when the team has no such session. */
export async function requireSession(context: CommandContext, sessionId: string): Promise<void> {
  const session = await context.tx.session.findFirst({
    where: { id: sessionId, teamId: context.actor.teamId },
    select: { id: true },
  });
  if (session === null) throw new DomainError('no-such-session', 'This session is not there.');
}
