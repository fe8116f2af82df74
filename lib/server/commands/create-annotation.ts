/** A remark on a stretch. */
import { z } from 'zod';
import type { Annotation } from '@/lib/core/findings/finding';
import { newId } from '../new-id';
import { ANNOTATION_COLUMNS, annotationFromRow } from '../rows';
import { requireForward, requireSession, stretchInput } from './anchor-input';
import { defineCommand } from './define-command';

export const annotationText = z
  .string()
  .trim()
  .min(1, 'A remark needs words.')
  .max(5_000, 'At most 5000 characters.');

export const createAnnotation = defineCommand({
  name: 'create-annotation',
  input: z.object({ sessionId: z.string().min(1), text: annotationText, ...stretchInput }),
  may: () => true,
  run: async (context, annotation): Promise<Annotation> => {
    requireForward(annotation);
    await requireSession(context, annotation.sessionId);
    const row = await context.tx.annotation.create({
      data: {
        id: newId(),
        ...annotation,
        channels: JSON.stringify(annotation.channels),
        author: context.actor.name,
        createdAt: context.now,
      },
      select: ANNOTATION_COLUMNS,
    });
    return annotationFromRow(row);
  },
});
