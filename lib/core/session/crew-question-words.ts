/** Questions to the crew about stretches, with their answers, as people.yaml carries them. */
import type { PeopleFileData } from './people-schema';

/** One answer, word for word; `by` is who gave it, as told to whoever wrote it down. */
export type CrewAnswer = Readonly<{ text: string; by: string; atIso: string }>;

/** A question as it travels with a folder; `number` counts per session, from 1. */
export type CrewQuestionWords = Readonly<{
  number: number;
  fromS: number;
  toS: number;
  channels: readonly string[];
  question: string;
  author: string;
  /** Oldest first. */
  answers: readonly CrewAnswer[];
}>;

/**
 * Answers with further ones among them. None is changed or taken away; one that is there already, word for
 * word, by the same person and of the same instant, is the same one.
 *
 * @returns oldest first; those of one instant in the order in which they came
 */
export function withFurtherAnswers(
  there: readonly CrewAnswer[],
  further: readonly CrewAnswer[],
): readonly CrewAnswer[] {
  const keyOf = ({ text, by, atIso }: CrewAnswer) => JSON.stringify([text, by, sortable(atIso)]);
  const known = new Set(there.map(keyOf));
  const added = further.filter((answer) => !known.has(keyOf(answer)) && known.add(keyOf(answer)));
  if (added.length === 0) return there;
  return [...there, ...added].sort((a, b) => {
    const [left, right] = [sortable(a.atIso), sortable(b.atIso)];
    return left < right ? -1 : Number(left > right);
  });
}

/** Without `Z` and noughts that say nothing, UTC stamps sort as their instants do. */
const sortable = (iso: string): string =>
  iso.replace(/(?:\.(\d*?)0*)?Z$/, (_, digits = '') => (digits === '' ? '' : `.${digits}`));

type QuestionData = NonNullable<PeopleFileData['crew_questions']>[number];

/** Entries of people.yaml; numbers that are not given, or given twice, are the places in the file. */
export function readCrewQuestions(data: readonly QuestionData[]): readonly CrewQuestionWords[] {
  const given = new Set(data.map(({ number }) => number));
  const isCounted = given.size === data.length && !given.has(undefined);
  return data.map(
    ({ number, from_s, to_s, channels = [], question, asked_by = '', answers = [] }, index) => ({
      number: isCounted ? (number ?? index + 1) : index + 1,
      fromS: Math.min(from_s, to_s),
      toS: Math.max(from_s, to_s),
      channels,
      question,
      author: asked_by,
      answers: answers.map(({ text, by, at }) => ({ text, by, atIso: at })),
    }),
  );
}

/** A question as an entry that `readCrewQuestions` reads back to the same. */
export function crewQuestionData(asked: CrewQuestionWords): QuestionData {
  const { number, fromS, toS, channels, question, author, answers } = asked;
  return {
    number,
    from_s: fromS,
    to_s: toS,
    ...(channels.length === 0 ? {} : { channels: [...channels] }),
    question,
    ...(author === '' ? {} : { asked_by: author }),
    ...(answers.length === 0
      ? {}
      : { answers: answers.map(({ text, by, atIso }) => ({ text, by, at: atIso })) }),
  };
}
