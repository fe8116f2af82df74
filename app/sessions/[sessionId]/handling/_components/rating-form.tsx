'use client';

import { useActionState, useState } from 'react';
import { Field } from '@/app/_components/form/field';
import type { RatingScale } from '@/lib/core/handling/decision-tree';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import { ratingWalk } from '@/lib/view/rating-walk';
import { giveRatingAction } from '../actions';
import styles from './handling.module.css';

type RatingFormProps = Readonly<{
  sessionId: string;
  task: string;
  scales: readonly RatingScale[];
}>;

/** A rating by its decision tree: one question at a time, then the ratings that the answers allow. */
export function RatingForm({ sessionId, task, scales }: RatingFormProps) {
  const [scaleId, setScaleId] = useState<string | null>(null);
  const scale = scales.find(({ id }) => id === scaleId);
  return (
    <details className="no-print">
      <summary>Rate this task</summary>
      <div className={`row ${styles.scales}`}>
        {scales.map(({ id, name }) => (
          <button
            key={id}
            type="button"
            className={id === scaleId ? 'button primary' : 'button'}
            aria-pressed={id === scaleId}
            onClick={() => setScaleId(id)}
          >
            {name}
          </button>
        ))}
      </div>
      {scale !== undefined && (
        <ScaleTree key={scale.id} sessionId={sessionId} task={task} scale={scale} />
      )}
    </details>
  );
}

type Answers = Readonly<Record<string, 'yes' | 'no'>>;
type ScaleTreeProps = Readonly<{ sessionId: string; task: string; scale: RatingScale }>;

function ScaleTree({ sessionId, task, scale }: ScaleTreeProps) {
  const [answers, setAnswers] = useState<Answers>({});
  const [state, save, isSaving] = useActionState(
    giveRatingAction.bind(null, { sessionId, task }),
    CLOCK_FORM_START,
  );
  // The next rater starts anew: answers count only for the attempt in which they were given.
  const [answeredFor, setAnsweredFor] = useState(state.attempt);
  if (state.done !== null && answeredFor !== state.attempt) {
    setAnsweredFor(state.attempt);
    setAnswers({});
  }
  const { asked, ratings } = ratingWalk(scale, answers);
  const answer = (key: string, given: 'yes' | 'no') => {
    // Answers to questions behind this one were for another path.
    const before = asked.slice(
      0,
      asked.findIndex((each) => each.key === key),
    );
    const kept = Object.fromEntries(before.map((each) => [each.key, answers[each.key] ?? 'no']));
    setAnswers({ ...kept, [key]: given });
  };
  return (
    <form key={state.attempt} className="stack" action={save}>
      <input type="hidden" name="scale" value={scale.id} />
      {asked.map((question) => (
        <fieldset key={question.key} className={styles.question}>
          <legend>{question.text}</legend>
          {(['yes', 'no'] as const).map((given) => (
            <label key={given} className={styles.choice}>
              <input
                type="radio"
                name={`answer.${question.key}`}
                value={given}
                checked={answers[question.key] === given}
                onChange={() => answer(question.key, given)}
              />
              {given}
            </label>
          ))}
        </fieldset>
      ))}
      {ratings !== null && (
        <>
          <fieldset className={styles.question}>
            <legend>Rating</legend>
            {ratings.map((rating) => (
              <label key={rating} className={styles.choice}>
                <input
                  type="radio"
                  name="rating"
                  value={rating}
                  defaultChecked={state.typed.rating === String(rating)}
                  required
                />
                <strong>{rating}</strong> {scale.anchors[rating]}
              </label>
            ))}
          </fieldset>
          <Field
            label="Rated by"
            name="rater"
            value={state.typed.rater ?? ''}
            problem={state.fields.rater}
          />
          <Field
            label="Remark"
            name="remark"
            rows={2}
            value={state.typed.remark ?? ''}
            problem={state.fields.remark}
          />
          <div className="row">
            <button className="button primary" type="submit" disabled={isSaving}>
              {isSaving ? 'Keeping' : 'Keep this rating'}
            </button>
          </div>
        </>
      )}
      <p
        className={state.message === null ? 'soft' : 'beyond'}
        role={state.message === null ? 'status' : 'alert'}
      >
        {state.message ?? state.done ?? scale.source}
      </p>
    </form>
  );
}
