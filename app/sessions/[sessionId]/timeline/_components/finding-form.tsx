'use client';

import type { Dispatch, FormEvent } from 'react';
import type { Finding } from '@/lib/core/findings/finding';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { RemarkEdit } from '@/lib/view/timeline-history';
import type { TimelineAction } from '@/lib/view/timeline-state';
import { capturedViews } from '@/lib/view/timeline-stretch';
import { type FindingSuggestion, nextSuggestion } from '@/lib/view/timeline-suggestions';
import type { EntryPlace } from '@/lib/view/timeline-time-entry';
import { saveFinding } from '../actions';
import { FindingFields, type FindingWords, wordsOf } from './finding-fields';
import { KeptWords } from './kept-words';
import { Refused } from './refused';
import { RemarkStretch } from './remark-stretch';
import { sendOnControlEnter } from './send-on-enter';
import styles from './side-sheet.module.css';
import { FigureList, StretchFigures } from './stretch-figures';
import { Suggestions } from './suggestions';
import { useRemark } from './use-remark';

type FindingFormProps = Readonly<{
  sessionId: string;
  place: EntryPlace;
  selection: TimeWindow | null;
  channels: readonly string[];
  finding: Finding | null;
  /** What a new finding on the selection might say. */
  suggestions?: readonly FindingSuggestion[];
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
  remember: (edit: RemarkEdit) => void;
}>;

/** The sheet that stands open after a save. */
function sheetAfter(saved: Finding): TimelineAction {
  return {
    kind: 'open',
    sheet:
      saved.state === 'withdrawn'
        ? { kind: 'withdrawn', finding: saved }
        : { kind: 'finding', id: saved.id },
  };
}

/** A finding on the selected stretch: what was seen, its weight, and the figures captured with it. */
export function FindingForm(props: FindingFormProps) {
  const { sessionId, selection, channels, finding, dispatch, say, suggestions = [] } = props;
  const edit = useRemark<FindingWords>({
    draftKey: `wakeline.finding.${sessionId}.${finding?.id ?? 'new'}`,
    remark: finding,
    words: wordsOf(finding),
    selection,
  });
  const { draft, stretch, moved, refused, takeVersion, waits } = edit;
  if (stretch === null) return <p>Select a stretch on the strips first.</p>;

  const save = (state: string, done: string): void => {
    const anchor = {
      fromS: stretch.fromS,
      toS: stretch.toS,
      channels: finding?.anchor.channels ?? channels,
    };
    edit.send(
      () => saveFinding(sessionId, { ...draft.fields, ...anchor, state }, edit.existing),
      (saved) => {
        takeVersion(saved.version);
        props.remember({
          before: finding === null ? null : { kind: 'finding', finding },
          after: { kind: 'finding', finding: saved },
        });
        say(`Finding ${saved.number} ${done}.`);
        dispatch(sheetAfter(saved));
      },
    );
  };
  const take = ({ title, seen, kind, severity }: FindingSuggestion): void =>
    draft.put({ title, seen, kind, severity });
  const takeNext = (): void => {
    const next = nextSuggestion(suggestions, draft.fields);
    if (next === null) return;
    take(next);
    say(`Taken: ${next.title}.`);
  };
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    save(draft.fields.state, 'saved');
  };
  const throwAway = (): void => {
    const words = wordsOf(finding);
    draft.takeUp(words);
    draft.forget(words);
    takeVersion(finding?.version ?? 0);
  };
  const isTakenUp = draft.restored === 'restored' && draft.words === 'dirty';
  return (
    <form className={styles.form} onSubmit={submit} onKeyDown={sendOnControlEnter}>
      {finding !== null && (
        <p className={styles.sub}>
          {finding.state}, by {finding.author}
        </p>
      )}
      <RemarkStretch
        place={props.place}
        noun="finding"
        edit={edit}
        selection={selection}
        dispatch={dispatch}
      />
      {isTakenUp && refused === null && <KeptWords throwAway={throwAway} />}
      {refused !== null && <Refused refusal={refused} takeVersion={takeVersion} />}
      <Suggestions suggestions={suggestions} take={take} />
      <FindingFields
        onTitleDown={takeNext}
        fields={draft.fields}
        put={draft.put}
        wrong={refused?.fields ?? {}}
        states={finding === null ? 'draft only' : 'all'}
      />
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
