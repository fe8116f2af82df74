'use client';

import { stampText } from '@/lib/view/format-date';
import { ChangedPartList } from './changed-part-list';
import type { Draft, SaveState } from './use-autosave';

type NewerNoticeProps = Readonly<{
  sessionId: string;
  state: Extract<SaveState, { kind: 'behind' }>;
  onTake: (draft: Draft) => void;
}>;

/** Somebody else has saved since this page was loaded: what differs, and the way to have it here. */
export function NewerNotice({ sessionId, state, onTake }: NewerNoticeProps) {
  const { theirs } = state;
  return (
    <section className="panel stack" aria-label="A newer version">
      <p className="unsure" role="status">
        {theirs.by} saved version {theirs.version} on {stampText(theirs.updatedAtIso)}. This page
        shows an older one; nothing of yours is unsaved.
      </p>
      <details>
        <summary>What differs</summary>
        <ChangedPartList
          sessionId={sessionId}
          before={state.shown}
          after={theirs.body}
          labels={['Shown here', `Version ${theirs.version}`]}
        />
      </details>
      <div className="row">
        <button type="button" className="button primary" onClick={() => onTake(theirs)}>
          Show version {theirs.version} here
        </button>
      </div>
    </section>
  );
}
