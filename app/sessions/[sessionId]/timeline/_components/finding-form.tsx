'use client';

import { type Dispatch, type FormEvent, useId, useState, useTransition } from 'react';
import type { Finding } from '@/lib/core/findings/finding';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import { formatStretch } from '@/lib/view/format-time';
import { FINDING_CHOICES } from '@/lib/view/timeline-finding';
import type { TimelineAction } from '@/lib/view/timeline-state';
import { capturedViews } from '@/lib/view/timeline-stretch';
import { type FindingDraft, saveFinding } from '../actions';
import forms from './forms.module.css';
import { MoveToSelection } from './move-to-selection';
import { Refused, type RefusedProps } from './refused';
import styles from './side-sheet.module.css';
import { FigureList, StretchFigures } from './stretch-figures';

import { withAddressAtRest } from './use-address';
import { useDraft } from './use-draft';

type FindingFormProps = Readonly<{
  sessionId: string;
  selection: TimeWindow | null;
  channels: readonly string[];
  finding: Finding | null;
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
}>;

type FindingWords = Readonly<Record<'title' | 'seen' | 'change' | 'kind' | 'severity', string>>;

function wordsOf(finding: Finding | null): FindingWords {
  return {
    title: finding?.title ?? '',
    seen: finding?.seen ?? '',
    change: finding?.change ?? '',
    kind: finding?.kind ?? 'observation',
    severity: finding?.severity ?? 'note',
  };
}

/** A finding on the selected stretch: what was seen, its weight, and the figures captured with it. */
export function FindingForm(props: FindingFormProps) {
  const { sessionId, selection, channels, finding, dispatch, say } = props;
  const id = useId();
  const [version, setVersion] = useState(finding?.version ?? 0);
  const [refused, setRefused] = useState<RefusedProps['refusal'] | null>(null);
  const [waits, start] = useTransition();
  const draft = useDraft<FindingWords>(
    `wakeline.finding.${sessionId}.${finding?.id ?? 'new'}`,
    wordsOf(finding),
  );
  // Somebody else's newer words arrive: shown at once where nothing has been typed over them.
  if (finding !== null && finding.version > version && draft.words === 'clean') {
    setVersion(finding.version);
    draft.takeUp(wordsOf(finding));
  }
  const { fields, put } = draft;
  const [moved, setMoved] = useState<TimeWindow | null>(null);
  const stretch = finding === null ? selection : (moved ?? finding.anchor);

  const save = (state: string, done: string): void => {
    if (stretch === null) return;
    const sent: FindingDraft = {
      ...fields,
      state,
      fromS: stretch.fromS,
      toS: stretch.toS,
      channels: finding?.anchor.channels ?? channels,
    };
    start(async () => {
      const existing = finding === null ? null : { id: finding.id, version };
      const result = await withAddressAtRest(() => saveFinding(sessionId, sent, existing)).catch(
        () => null,
      );
      if (result === null) {
        setRefused({ message: 'The server does not answer. Your words are kept in this tab.' });
        return;
      }
      if (!result.ok) {
        setRefused(result);
        return;
      }
      draft.forget();
      say(`Finding ${result.data.number} ${done}.`);
      setRefused(null);
      setVersion(result.data.version);
      dispatch({
        kind: 'open',
        sheet:
          state === 'withdrawn'
            ? { kind: 'withdrawn', finding: result.data }
            : { kind: 'finding', id: result.data.id },
      });
    });
  };
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    save(finding?.state ?? 'draft', 'saved');
  };
  const wrong = (name: string): string | undefined => refused?.fields?.[name];

  if (stretch === null) return <p>Select a stretch on the strips first.</p>;
  return (
    <form className={styles.form} onSubmit={submit}>
      <p className={styles.sub}>
        <span className="num">{formatStretch(stretch.fromS, stretch.toS)}</span>
        {finding !== null && `, ${finding.state}, by ${finding.author}`}
      </p>
      {finding !== null && (
        <MoveToSelection stretch={stretch} selection={selection} move={setMoved} />
      )}
      {draft.restored === 'restored' && draft.words === 'dirty' && refused === null && (
        <p className={styles.note}>
          Words that were not saved have been taken up again.{' '}
          <button
            type="button"
            className="button"
            onClick={() => {
              draft.takeUp(wordsOf(finding));
              draft.forget();
            }}
          >
            Throw them away
          </button>
        </p>
      )}
      {refused !== null && (
        <Refused
          refusal={refused}
          takeVersion={(newer) => {
            setVersion(newer);
            setRefused(null);
          }}
        />
      )}
      <div className={forms.field}>
        <label htmlFor={`${id}-title`}>Title</label>
        <input
          id={`${id}-title`}
          value={fields.title}
          maxLength={200}
          required
          aria-invalid={wrong('title') !== undefined}
          onChange={(event) => put({ title: event.target.value })}
        />
      </div>
      <div className={forms.field}>
        <label htmlFor={`${id}-seen`}>What was seen</label>
        <textarea
          id={`${id}-seen`}
          value={fields.seen}
          required
          aria-invalid={wrong('seen') !== undefined}
          onChange={(event) => put({ seen: event.target.value })}
        />
      </div>
      <div className={forms.pair}>
        <div className={forms.field}>
          <label htmlFor={`${id}-kind`}>Kind</label>
          <select
            id={`${id}-kind`}
            value={fields.kind}
            onChange={(event) => put({ kind: event.target.value })}
          >
            {FINDING_CHOICES.kinds.map((kind) => (
              <option key={kind}>{kind}</option>
            ))}
          </select>
        </div>
        <div className={forms.field}>
          <label htmlFor={`${id}-severity`}>Severity</label>
          <select
            id={`${id}-severity`}
            value={fields.severity}
            onChange={(event) => put({ severity: event.target.value })}
          >
            {FINDING_CHOICES.severities.map((severity) => (
              <option key={severity}>{severity}</option>
            ))}
          </select>
        </div>
      </div>
      <div className={forms.field}>
        <label htmlFor={`${id}-change`}>What should change</label>
        <textarea
          id={`${id}-change`}
          value={fields.change}
          placeholder="What to do, and for whom"
          onChange={(event) => put({ change: event.target.value })}
        />
      </div>
      <div className={styles.buttons}>
        <button type="submit" className="button primary" disabled={waits}>
          {waits ? 'Saving…' : finding === null ? 'Save the finding' : 'Save the changes'}
        </button>
        {finding !== null && (
          <button
            type="button"
            className="button danger"
            disabled={waits}
            onClick={() => save('withdrawn', 'withdrawn')}
          >
            Withdraw
          </button>
        )}
      </div>
      <div className={styles.captured}>
        {finding !== null && moved === null ? (
          <FigureList
            title="Captured with this finding"
            figures={capturedViews(sessionId, finding.figures)}
          />
        ) : (
          <StretchFigures sessionId={sessionId} stretch={stretch} />
        )}
      </div>
    </form>
  );
}
