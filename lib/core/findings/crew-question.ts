/** A question to the crew about a stretch of a session, and what they answered. */
import type { Anchor } from '../anchor';

/** One answer, word for word; `by` is who gave it, as told to whoever wrote it down. */
export type CrewAnswer = Readonly<{ text: string; by: string; atIso: string }>;

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
