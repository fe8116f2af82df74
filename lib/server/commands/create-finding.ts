/** A finding on a stretch, with the figures of that stretch captured as they are now. */
import { z } from 'zod';
import {
  FINDING_KINDS,
  FINDING_SEVERITIES,
  FINDING_STATES,
  type Finding,
} from '@/lib/core/findings/finding';
import { newId } from '../new-id';
import { capturedFigureSchema, FINDING_COLUMNS, findingFromRow } from '../rows';
import { requireForward, requireSession, stretchInput } from './anchor-input';
import { defineCommand } from './define-command';

export const findingWords = {
  title: z.string().trim().min(1, 'A title is needed.').max(200, 'At most 200 characters.'),
  seen: z.string().trim().min(1, 'What was seen is needed.').max(20_000),
  change: z.string().trim().max(20_000),
  owner: z.string().trim().max(200, 'At most 200 characters.'),
  due: z
    .string()
    .trim()
    .refine(
      (text) => text === '' || z.iso.date().safeParse(text).success,
      'A date that exists, as yyyy-mm-dd, or nothing.',
    ),
  kind: z.enum(FINDING_KINDS, `One of: ${FINDING_KINDS.join(', ')}.`),
  severity: z.enum(FINDING_SEVERITIES, `One of: ${FINDING_SEVERITIES.join(', ')}.`),
  state: z.enum(FINDING_STATES, `One of: ${FINDING_STATES.join(', ')}.`),
};

const input = z.object({
  sessionId: z.string().min(1),
  ...findingWords,
  change: findingWords.change.default(''),
  owner: findingWords.owner.default(''),
  due: findingWords.due.default(''),
  state: findingWords.state.default('draft'),
  ...stretchInput,
  figures: z.array(capturedFigureSchema).max(200).default([]),
});

export const createFinding = defineCommand({
  name: 'create-finding',
  input,
  may: () => true,
  run: async (context, finding): Promise<Finding> => {
    requireForward(finding);
    await requireSession(context, finding.sessionId);
    const { channels, figures, ...columns } = finding;
    const last = await context.tx.finding.aggregate({
      where: { sessionId: finding.sessionId },
      _max: { number: true },
    });
    const row = await context.tx.finding.create({
      data: {
        id: newId(),
        ...columns,
        number: (last._max.number ?? 0) + 1,
        channels: JSON.stringify(channels),
        figures: JSON.stringify(figures),
        author: context.actor.name,
        createdAt: context.now,
      },
      select: FINDING_COLUMNS,
    });
    return findingFromRow(row);
  },
});
