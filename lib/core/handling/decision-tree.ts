/**
 * Rating scales as decision trees: questions in order, so that a rating which the answers do not allow
 * cannot be given.
 */

export type Answer = 'yes' | 'no';

/** Where an answer leads: to another question by its key, or to the ratings it allows. */
export type Branch = Readonly<{ ask: string }> | Readonly<{ ratings: readonly number[] }>;

export type Question = Readonly<{ key: string; text: string; yes: Branch; no: Branch }>;

export type RatingScale = Readonly<{
  id: string;
  name: string;
  /** Author, title, year. */
  source: string;
  first: string;
  questions: readonly Question[];
  /** What each rating says, by rating. */
  anchors: Readonly<Record<number, string>>;
}>;

/**
 * How far answers lead. `open`: the question to be asked next; `reached`: the ratings allowed. `asked`
 * are the questions answered on the way, in order: answers to any other were never asked for.
 */
export type TreeState = Readonly<{
  asked: readonly string[];
  open: Question | null;
  reached: readonly number[] | null;
}>;

/** Walks a scale's questions with the answers given so far, by question. */
export function walkTree(
  scale: RatingScale,
  answers: Readonly<Record<string, Answer | undefined>>,
): TreeState {
  const asked: string[] = [];
  let key: string | null = scale.first;
  while (key !== null) {
    const question: Question | undefined = scale.questions.find((each) => each.key === key);
    if (question === undefined) break;
    const answer = answers[question.key];
    if (answer === undefined) return { asked, open: question, reached: null };
    asked.push(question.key);
    const branch: Branch = question[answer];
    if ('ratings' in branch) return { asked, open: null, reached: branch.ratings };
    key = branch.ask;
  }
  return { asked, open: null, reached: null };
}

/** Why a rating cannot stand; null where it can. */
export function ratingFault(
  scale: RatingScale,
  answers: Readonly<Record<string, Answer | undefined>>,
  rating: number,
): string | null {
  const { asked, open, reached } = walkTree(scale, answers);
  const stray = Object.keys(answers).find(
    (key) => answers[key] !== undefined && !asked.includes(key),
  );
  if (stray !== undefined) return `the question "${stray}" was never reached`;
  if (open !== null) return `the question "${open.text}" is not answered`;
  if (reached === null || !reached.includes(rating)) {
    return `the answers allow ${(reached ?? []).join(', ')}, not ${rating}`;
  }
  return null;
}
