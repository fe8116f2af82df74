/** Renames a kept arrangement, puts other strips under its name, takes it off the list or back onto it. */
import { z } from 'zod';
import { ARRANGEMENT_COLUMNS, type Arrangement } from '../queries/load-arrangements';
import { defineCommand } from './define-command';
import { arrangementName, arrangementQuery, requireFreeName } from './keep-arrangement';

export const editArrangement = defineCommand({
  name: 'edit-arrangement',
  input: z.object({
    id: z.string().min(1),
    version: z.int(),
    name: arrangementName,
    query: arrangementQuery,
    state: z.enum(['kept', 'removed']),
  }),
  may: () => true,
  version: {
    expected: (arrangement) => arrangement.version,
    load: async ({ tx, actor }, { id }) => {
      const where = { id, teamId: actor.teamId };
      const row = await tx.arrangement.findFirst({ where, select: ARRANGEMENT_COLUMNS });
      return row === null ? null : { version: row.version, value: row };
    },
  },
  run: async (context, { id, version, name, query, state }): Promise<Arrangement> => {
    if (state === 'kept') await requireFreeName(context, name, id);
    return context.tx.arrangement.update({
      where: { id },
      data: {
        name,
        query,
        version: version + 1,
        removedAt: state === 'removed' ? context.now : null,
      },
      select: ARRANGEMENT_COLUMNS,
    });
  },
});
