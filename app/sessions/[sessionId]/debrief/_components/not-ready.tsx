'use client';

import { NewerNotice } from './newer-notice';
import { saveWords } from './save-words';
import type { Draft, SaveState } from './use-autosave';

type NotReadyProps = Readonly<{
  sessionId: string;
  state: SaveState;
  onAgain: () => void;
  onShow: (newer: Draft) => void;
  onShowChoice: () => void;
}>;

/** Why the draft cannot be published as it stands, and what to do about it. */
export function NotReady({ sessionId, state, onAgain, onShow, onShowChoice }: NotReadyProps) {
  if (state.kind === 'behind') {
    return <NewerNotice sessionId={sessionId} state={state} onTake={onShow} />;
  }
  const isConflict = state.kind === 'conflict';
  const isSafe = state.kind === 'saved' || state.kind === 'saving' || state.kind === 'changed';
  return (
    <>
      <p className="beyond" role="alert">
        {isSafe
          ? 'The draft could not be looked through: the server gave no answer.'
          : saveWords(state).text}{' '}
        {isConflict ? 'Choose what to keep, then publish.' : 'Nothing is published until it is.'}
      </p>
      <div className="row">
        <button type="button" className="button" onClick={isConflict ? onShowChoice : onAgain}>
          {isConflict ? 'Choose what to keep' : 'Try again'}
        </button>
      </div>
    </>
  );
}
