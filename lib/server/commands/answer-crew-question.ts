/** What the crew answered, kept word for word beneath what was answered before. */
import { z } from 'zod';
import type { CrewQuestion } from '@/lib/core/findings/crew-question';
import { DomainError, invariant } from '@/lib/core/result';
import { answersOf, CREW_QUESTION_COLUMNS, crewQuestionFromRow } from '../crew-question-row';
import { defineCommand } from './define-command';
import { loadCrewQuestionRow, versionedCrewQuestion } from './edit-crew-question';

const MOST_CHARACTERS = 20_000;

export const answerCrewQuestion = defineCommand({
  name: 'answer-crew-question',
  input: z.object({
    id: z.string().min(1),
    version: z.int(),
    // Word for word: blanks at its ends are kept too.
    text: z
      .string()
      .max(MOST_CHARACTERS, 'At most 20000 characters.')
      .refine((text) => text.trim() !== '', 'An answer needs words.'),
    by: z.string().trim().min(1, 'Who answered is needed.').max(200, 'At most 200 characters.'),
  }),
  may: () => true,
  version: {
    expected: (answer) => answer.version,
    load: (context, answer) => versionedCrewQuestion(context, answer.id),
  },
  run: async (context, { id, version, text, by }): Promise<CrewQuestion> => {
    const before = await loadCrewQuestionRow(context, id);
    invariant(before !== null, 'the version was checked');
    if (before.removedAt !== null) {
      throw new DomainError('question-removed', 'This question was taken off the sheet.');
    }
    const answers = [...answersOf(before), { text, by, atIso: context.now.toISOString() }];
    const row = await context.tx.crewQuestion.update({
      where: { id },
      data: { answers: JSON.stringify(answers), version: version + 1 },
      select: CREW_QUESTION_COLUMNS,
    });
    return crewQuestionFromRow(row);
  },
});
