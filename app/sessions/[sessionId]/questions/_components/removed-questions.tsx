import type { QuestionView } from '@/lib/view/crew-questions-view';
import { MoveQuestion } from './move-question';
import styles from './questions.module.css';

type RemovedQuestionsProps = Readonly<{ sessionId: string; questions: readonly QuestionView[] }>;

/** Questions that were taken off the sheet, to be put back. */
export function RemovedQuestions({ sessionId, questions }: RemovedQuestionsProps) {
  if (questions.length === 0) return null;
  return (
    <section className="panel no-print">
      <h2>Taken off the sheet</h2>
      <ul className={styles.removed}>
        {questions.map(({ id, version, number, question, when }) => (
          <li key={id}>
            <span>
              {number}. {question} <span className="soft">{when}</span>
            </span>
            <MoveQuestion place={{ sessionId, id, version }} number={number} to="standing" />
          </li>
        ))}
      </ul>
    </section>
  );
}
