/** Says what the team's next debriefs are called; those published keep their names. */
import { z } from 'zod';
import { schemeFault } from '@/lib/core/debrief/number-scheme';
import { DomainError } from '@/lib/core/result';
import { defineCommand } from './define-command';

const input = z.object({ scheme: z.string().trim().max(200) });

export const setNumberScheme = defineCommand({
  name: 'set-number-scheme',
  input,
  may: () => true,
  run: async ({ tx, actor }, { scheme }): Promise<{ id: string }> => {
    const fault = schemeFault(scheme);
    if (fault !== null) throw new DomainError('scheme-not-valid', fault);
    return tx.team.update({
      where: { id: actor.teamId },
      data: { numberScheme: scheme },
      select: { id: true },
    });
  },
});
