'use client';

import { useActionState } from 'react';
import { Field } from '@/app/_components/form/field';
import { CLOCK_FORM_START } from '@/lib/view/clock/clock-edit';
import type { ClockView } from '@/lib/view/clock/clock-view';
import { ReasonEnd } from '../../_components/reason-end';
import { tiePointAction } from '../actions';
import styles from './clock.module.css';
import type { SourcePlace } from './judge-form';
import { useFirstProblem } from './use-first-problem';

type TiePointFormProps = Readonly<{
  view: Pick<ClockView, 'entries' | 'entriesNote' | 'isLog'>;
  place: SourcePlace;
}>;

const WORDS = { rest: 'Set the tie point', busy: 'Setting' };
const ENTRIES_ID = 'log-entries';

/** A moment of the source's own clock set on session time by hand. */
export function TiePointForm({ view, place }: TiePointFormProps) {
  const [state, save, isSaving] = useActionState(
    tiePointAction.bind(null, place),
    CLOCK_FORM_START,
  );
  const { typed, fields } = state;
  const form = useFirstProblem(state.attempt);
  return (
    <section className="panel no-print">
      <h2>Set a tie point by hand</h2>
      <form key={state.attempt} ref={form} className={styles.form} action={save}>
        <div className={styles.pair}>
          <Field
            label="Source time"
            name="sourceS"
            value={typed.sourceS ?? ''}
            problem={fields.sourceS}
            list={view.entries.length > 0 ? ENTRIES_ID : undefined}
          />
          <Field
            label="Session time"
            name="sessionS"
            value={typed.sessionS ?? ''}
            problem={fields.sessionS}
          />
          <Field
            label="Standard deviation, s"
            name="sdS"
            value={typed.sdS ?? '0.2'}
            problem={fields.sdS}
          />
        </div>
        <datalist id={ENTRIES_ID}>
          {view.entries.map(({ key, time, words }) => (
            <option key={key} value={time} label={words} />
          ))}
        </datalist>
        <ReasonEnd state={state} words={WORDS} isSaving={isSaving} />
      </form>
      <p className="panel-note">
        Times as hh:mm:ss, hh:mm:ss.s or seconds from zero.
        {view.isLog &&
          ' The source time can be chosen from the entries of the log: type a word of it.'}{' '}
        {view.entriesNote} A tie point by hand counts unless it would run time backwards, and is
        weighed by its standard deviation. Beside a stated clock it takes the place of that clock’s
        offset; points far enough apart also of its drift.
      </p>
    </section>
  );
}
