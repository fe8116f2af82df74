/** Changes a remark's words or stretch. */
import { z } from 'zod';
import type { Annotation } from '@/lib/core/findings/finding';
import { ANNOTATION_COLUMNS, annotationFromRow } from '../rows';
import { requireForward, stretchInput } from './anchor-input';
import { annotationText } from './create-annotation';
import { type CommandContext, defineCommand } from './define-command';

/** The remark as it is now; removed ones are gone. */
export async function loadAnnotationRow(context: CommandContext, id: string) {
  const row = await context.tx.annotation.findFirst({
    where: { id, removedAt: null, session: { teamId: context.actor.teamId } },
    select: ANNOTATION_COLUMNS,
  });
  return row === null ? null : { version: row.version, value: annotationFromRow(row) };
}

export const editAnnotation = defineCommand({
  name: 'edit-annotation',
  input: z.object({
    id: z.string().min(1),
    version: z.int(),
    text: annotationText,
    ...stretchInput,
  }),
  may: () => true,
  version: {
    expected: (annotation) => annotation.version,
    load: (context, annotation) => loadAnnotationRow(context, annotation.id),
  },
  run: async (context, annotation): Promise<Annotation> => {
    requireForward(annotation);
    const { id, version, channels, ...columns } = annotation;
    const row = await context.tx.annotation.update({
      where: { id },
      data: { ...columns, version: version + 1, channels: JSON.stringify(channels) },
      select: ANNOTATION_COLUMNS,
    });
    return annotationFromRow(row);
  },
});
