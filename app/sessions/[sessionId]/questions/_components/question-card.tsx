import Link from 'next/link';
import { SvgTree } from '@/app/_components/document/svg-tree';
import type { QuestionView } from '@/lib/view/crew-questions-view';
import { AnswerForm } from './answer-form';
import { MoveQuestion } from './move-question';
import styles from './questions.module.css';
import { RewordForm } from './reword-form';

type QuestionCardProps = Readonly<{ sessionId: string; question: QuestionView }>;

/** One question: what was asked, the traces, what was said meanwhile, and the answers. */
export function QuestionCard({ sessionId, question }: QuestionCardProps) {
  const { id, version, picture } = question;
  const place = { sessionId, id, version };
  const isAnswered = question.answers.length > 0;
  return (
    <section className={`panel ${styles.card}`} aria-labelledby={`question-${id}`}>
      <div className={styles.head}>
        <h2 id={`question-${id}`}>
          {question.number}. {question.question}
        </h2>
        <p className="soft">
          <Link href={question.timelineHref}>{question.when}</Link>, {question.lasts}; {question.by}
        </p>
      </div>
      {picture === null ? (
        <p className="soft">{question.pictureNote}</p>
      ) : (
        <div className={styles.picture}>
          <SvgTree node={picture} />
        </div>
      )}
      {question.words.length > 0 && (
        <dl className={styles.words}>
          {question.words.map((word) => (
            <div key={word.key}>
              <dt>{word.time}</dt>
              <dd>{word.text}</dd>
            </div>
          ))}
        </dl>
      )}
      {question.more !== null && <p className="soft">{question.more}</p>}
      {question.answers.map((answer) => (
        <blockquote key={answer.key} className={styles.answer}>
          <p>{answer.text}</p>
          <footer className="soft">{answer.by}</footer>
        </blockquote>
      ))}
      {!isAnswered && (
        <div className={styles.lines} aria-hidden="true">
          <span />
          <span />
          <span />
          <span />
        </div>
      )}
      <AnswerForm place={place} label={isAnswered ? 'A further answer' : 'Answer'} />
      <div className={`${styles.more} no-print`}>
        {!isAnswered && <RewordForm place={place} question={question.question} />}
        <MoveQuestion place={place} number={question.number} to="removed" />
      </div>
    </section>
  );
}
