/** A question to the crew about a stretch of a session, and what they answered. */
import type { Anchor } from '../anchor';
import type { CrewAnswer, CrewQuestionWords } from '../session/crew-question-words';

/**
 * A question with its answers, oldest first. An answer is never changed: what is said later, or by
 * somebody else, is a further one.
 */
export type CrewQuestion = Readonly<{
  id: string;
  /** Counted per session, from 1, never used twice. */
  number: number;
  version: number;
  question: string;
  anchor: Anchor;
  answers: readonly CrewAnswer[];
  author: string;
  removed: 'standing' | 'removed';
}>;

/** A question as it travels with a session's folder. */
export function crewQuestionWords(asked: CrewQuestion): CrewQuestionWords {
  const { number, question, author, answers, anchor } = asked;
  const { fromS, toS, channels } = anchor;
  return { number, fromS, toS, channels, question, author, answers };
}

/** A question of a folder that no database holds. */
export function crewQuestionOfFolder(words: CrewQuestionWords): CrewQuestion {
  const { number, fromS, toS, channels, question, author, answers } = words;
  const anchor = { sessionId: '', fromS, toS, channels };
  const kept = { id: `folder-${number}`, version: 1, removed: 'standing' } as const;
  return { ...kept, number, question, anchor, answers, author };
}
