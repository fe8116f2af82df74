/** Says what the team's next debriefs are called; those published keep their names. */
import { z } from 'zod';
import { schemeFault } from '@/lib/core/debrief/number-scheme';
import { DomainError } from '@/lib/core/result';
import { defineCommand } from './define-command';

const input = z.object({
  scheme: z.string().trim().max(200),
  /** The scheme that stood there as the form was filled in. */
  seen: z.string().max(200),
});

export const setNumberScheme = defineCommand({
  name: 'set-number-scheme',
  input,
  may: () => true,
  run: async ({ tx, actor }, { scheme, seen }): Promise<{ id: string }> => {
    const fault = schemeFault(scheme);
    if (fault !== null) throw new DomainError('scheme-not-valid', fault);
    const team = await tx.team.findUniqueOrThrow({
      where: { id: actor.teamId },
      select: { numberScheme: true },
    });
    if (team.numberScheme !== seen) {
      const message = `Somebody changed it meanwhile to “${team.numberScheme}”; look at it, and keep yours again if it shall be that.`;
      throw new DomainError('changed-meanwhile', message);
    }
    return tx.team.update({
      where: { id: actor.teamId },
      data: { numberScheme: scheme },
      select: { id: true },
    });
  },
});
