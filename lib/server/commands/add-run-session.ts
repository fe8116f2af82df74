/** Holds a session against another that is here already: a simulation, or another flight. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import type { RunSession } from '../run-sessions';
import { requireSession } from './anchor-input';
import { defineCommand } from './define-command';
import { keepCorrection } from './keep-correction';

const input = z.object({
  sessionId: z.string().min(1),
  run: z.string().min(1, 'A session is needed.'),
  basis: z.enum(['prediction', 'reconstruction'], 'One of: prediction, reconstruction.'),
});

export const addRunSession = defineCommand({
  name: 'add-run-session',
  input,
  may: () => true,
  run: async (context, word): Promise<Readonly<{ id: string; jobId: string }>> => {
    const { sessionId, run, basis } = word;
    await requireSession(context, sessionId);
    await requireSession(context, run);
    if (run === sessionId) {
      throw new DomainError('own-session', 'A session is not held against itself.');
    }
    const { title, kind } = await context.tx.session.findUniqueOrThrow({
      where: { id: run },
      select: { title: true, kind: true },
    });
    if (kind === 'flight' && basis === 'reconstruction') {
      throw new DomainError(
        'flight-not-reconstruction',
        `“${title}” is a flight. Only a simulation driven by the recorded inputs is a reconstruction; one that was imported as a flight needs kind: simulation in its session.yaml.`,
      );
    }
    const correction: RunSession = { run, title, basis, by: context.actor.name, reason: null };
    return keepCorrection(context, { sessionId, kind: 'run-session', correction });
  },
});
