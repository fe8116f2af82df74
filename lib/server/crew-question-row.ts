/** A question to the crew between its row and the core's value. */
import { z } from 'zod';
import type { CrewQuestion } from '@/lib/core/findings/crew-question';
import type { CrewAnswer } from '@/lib/core/session/crew-question-words';
import { parseJson } from './rows';

/** The columns of a question that its core value is made of. */
export const CREW_QUESTION_COLUMNS = {
  id: true,
  sessionId: true,
  version: true,
  number: true,
  fromS: true,
  toS: true,
  channels: true,
  question: true,
  answers: true,
  author: true,
  removedAt: true,
} as const;

export type CrewQuestionRow = Readonly<{
  id: string;
  sessionId: string;
  version: number;
  number: number;
  fromS: number;
  toS: number;
  channels: string;
  question: string;
  answers: string;
  author: string;
  removedAt: Date | null;
}>;

const answersSchema = z.array(z.object({ text: z.string(), by: z.string(), atIso: z.string() }));

export function answersOf(row: CrewQuestionRow): readonly CrewAnswer[] {
  return parseJson(answersSchema, row.answers);
}

export function crewQuestionFromRow(row: CrewQuestionRow): CrewQuestion {
  const { id, number, version, question, sessionId, fromS, toS, author } = row;
  const channels = parseJson(z.array(z.string()), row.channels);
  return {
    id,
    number,
    version,
    question,
    anchor: { sessionId, fromS, toS, channels },
    answers: answersOf(row),
    author,
    removed: row.removedAt === null ? 'standing' : 'removed',
  };
}
