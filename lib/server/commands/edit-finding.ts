/** Changes a finding's words, stretch or figures; findings are withdrawn, never deleted. */
import { z } from 'zod';
import type { Finding } from '@/lib/core/findings/finding';
import { capturedFigureSchema, FINDING_COLUMNS, findingFromRow } from '../rows';
import { requireForward, stretchInput } from './anchor-input';
import { findingWords } from './create-finding';
import { type CommandContext, defineCommand } from './define-command';

const input = z.object({
  id: z.string().min(1),
  version: z.int(),
  ...findingWords,
  // Left as they are where the caller does not speak of them.
  owner: findingWords.owner.optional(),
  due: findingWords.due.optional(),
  ...stretchInput,
  figures: z.array(capturedFigureSchema).max(200),
});

async function load(context: CommandContext, id: string) {
  const row = await context.tx.finding.findFirst({
    where: { id, session: { teamId: context.actor.teamId } },
    select: FINDING_COLUMNS,
  });
  return row === null ? null : { version: row.version, value: findingFromRow(row) };
}

export const editFinding = defineCommand({
  name: 'edit-finding',
  input,
  may: () => true,
  version: {
    expected: (finding) => finding.version,
    load: (context, finding) => load(context, finding.id),
  },
  run: async (context, finding): Promise<Finding> => {
    requireForward(finding);
    const { id, version, channels, figures, owner, due, ...columns } = finding;
    const row = await context.tx.finding.update({
      where: { id },
      data: {
        ...columns,
        ...(owner === undefined ? {} : { owner }),
        ...(due === undefined ? {} : { due }),
        version: version + 1,
        channels: JSON.stringify(channels),
        figures: JSON.stringify(figures),
      },
      select: FINDING_COLUMNS,
    });
    return findingFromRow(row);
  },
});
