/** Says which roles must have approved a debrief before the team publishes it; none is a choice too. */
import { z } from 'zod';
import { readRoles } from '@/lib/core/debrief/approvals';
import { DomainError } from '@/lib/core/result';
import { requiredRolesOf } from '../approval-rows';
import { defineCommand } from './define-command';

const input = z.object({
  /** One role a line. */
  roles: z.string().max(4000, 'That is too long for a list of roles.'),
  /** The roles that stood there as the form was filled in, one a line. */
  seen: z.string().max(4000),
});

export const requireRoles = defineCommand({
  name: 'require-roles',
  input,
  may: () => true,
  detail: ({ roles }) => ({ roles }),
  run: async ({ tx, actor }, { roles: typed, seen }): Promise<{ id: string }> => {
    const { roles, fault } = readRoles(typed);
    if (fault !== null) throw new DomainError('roles-not-valid', fault);
    const now = (await requiredRolesOf(tx, actor.teamId)).join('\n');
    if (now !== seen) {
      const said = now === '' ? 'none' : now.replaceAll('\n', ', ');
      const message = `Somebody changed the required roles meanwhile to: ${said}. Look at them, and keep yours again if they shall be those.`;
      throw new DomainError('changed-meanwhile', message);
    }
    return tx.team.update({
      where: { id: actor.teamId },
      data: { requiredRoles: JSON.stringify(roles) },
      select: { id: true },
    });
  },
});
