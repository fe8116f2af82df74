/** Changes the words of a question that nobody has answered yet. */
import { z } from 'zod';
import type { CrewQuestion } from '@/lib/core/findings/crew-question';
import { DomainError, invariant } from '@/lib/core/result';
import {
  answersOf,
  CREW_QUESTION_COLUMNS,
  type CrewQuestionRow,
  crewQuestionFromRow,
} from '../crew-question-row';
import { questionText } from './ask-crew';
import { type CommandContext, defineCommand } from './define-command';

/** The row as it is; null where the team has none of that id. */
export async function loadCrewQuestionRow(
  context: CommandContext,
  id: string,
): Promise<CrewQuestionRow | null> {
  return context.tx.crewQuestion.findFirst({
    where: { id, session: { teamId: context.actor.teamId } },
    select: CREW_QUESTION_COLUMNS,
  });
}

/** What a version check compares and shows. */
export async function versionedCrewQuestion(context: CommandContext, id: string) {
  const row = await loadCrewQuestionRow(context, id);
  return row === null ? null : { version: row.version, value: crewQuestionFromRow(row) };
}

export const editCrewQuestion = defineCommand({
  name: 'edit-crew-question',
  input: z.object({ id: z.string().min(1), version: z.int(), question: questionText }),
  may: () => true,
  version: {
    expected: (edited) => edited.version,
    load: (context, edited) => versionedCrewQuestion(context, edited.id),
  },
  run: async (context, { id, version, question }): Promise<CrewQuestion> => {
    const before = await loadCrewQuestionRow(context, id);
    invariant(before !== null, 'the version was checked');
    if (answersOf(before).length > 0) {
      throw new DomainError(
        'question-answered',
        'This question was answered; its words stay beside the answer. Ask another one.',
      );
    }
    const row = await context.tx.crewQuestion.update({
      where: { id },
      data: { question, version: version + 1 },
      select: CREW_QUESTION_COLUMNS,
    });
    return crewQuestionFromRow(row);
  },
});
