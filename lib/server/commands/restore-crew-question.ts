/** Puts a question back on the sheet, with its answers. */
import type { CrewQuestion } from '@/lib/core/findings/crew-question';
import { defineCommand } from './define-command';
import { questionPlace, setQuestionRemoved } from './remove-crew-question';

export const restoreCrewQuestion = defineCommand({
  name: 'restore-crew-question',
  ...questionPlace,
  run: (context, question): Promise<CrewQuestion> => setQuestionRemoved(context, question, null),
});
