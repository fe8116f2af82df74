/** Takes a question off the sheet, with its answers; it can be put back. */
import { z } from 'zod';
import type { CrewQuestion } from '@/lib/core/findings/crew-question';
import { CREW_QUESTION_COLUMNS, crewQuestionFromRow } from '../crew-question-row';
import { type CommandContext, defineCommand } from './define-command';
import { versionedCrewQuestion } from './edit-crew-question';

type QuestionPlace = Readonly<{ id: string; version: number }>;

/** What removing and putting back share: the row and the version it was seen in. */
export const questionPlace = {
  input: z.object({ id: z.string().min(1), version: z.int() }),
  may: () => true,
  version: {
    expected: (question: QuestionPlace) => question.version,
    load: (context: CommandContext, question: QuestionPlace) =>
      versionedCrewQuestion(context, question.id),
  },
};

export async function setQuestionRemoved(
  context: CommandContext,
  { id, version }: QuestionPlace,
  removedAt: Date | null,
): Promise<CrewQuestion> {
  const row = await context.tx.crewQuestion.update({
    where: { id },
    data: { removedAt, version: version + 1 },
    select: CREW_QUESTION_COLUMNS,
  });
  return crewQuestionFromRow(row);
}

export const removeCrewQuestion = defineCommand({
  name: 'remove-crew-question',
  ...questionPlace,
  run: (context, question): Promise<CrewQuestion> =>
    setQuestionRemoved(context, question, context.now),
});
