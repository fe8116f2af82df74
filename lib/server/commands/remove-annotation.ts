/** Takes a remark off the screens; the row stays for the audit. */
import { z } from 'zod';
import { defineCommand } from './define-command';
import { loadAnnotationRow } from './edit-annotation';

export const removeAnnotation = defineCommand({
  name: 'remove-annotation',
  input: z.object({ id: z.string().min(1), version: z.int() }),
  may: () => true,
  version: {
    expected: (annotation) => annotation.version,
    load: (context, annotation) => loadAnnotationRow(context, annotation.id),
  },
  run: async (context, annotation): Promise<Readonly<{ id: string }>> => {
    await context.tx.annotation.update({
      where: { id: annotation.id },
      data: { removedAt: context.now, version: annotation.version + 1 },
      select: { id: true },
    });
    return { id: annotation.id };
  },
});
