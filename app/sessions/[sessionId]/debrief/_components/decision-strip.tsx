import styles from './debrief.module.css';
import { saveWords } from './save-words';
import type { Draft, SaveState } from './use-autosave';

type DecisionStripProps = Readonly<{
  state: SaveState;
  onShowChoice: () => void;
  onShow: (newer: Draft) => void;
}>;

/** What a person has to decide, in view however far down the page they are. */
export function DecisionStrip({ state, onShowChoice, onShow }: DecisionStripProps) {
  if (state.kind !== 'conflict' && state.kind !== 'behind') return null;
  const { text, tone } = saveWords(state);
  return (
    <div className={styles.strip}>
      <p className={tone}>{text}</p>
      {state.kind === 'conflict' ? (
        <button type="button" className="button" onClick={onShowChoice}>
          Choose what to keep
        </button>
      ) : (
        <button type="button" className="button" onClick={() => onShow(state.theirs)}>
          Show it here
        </button>
      )}
    </div>
  );
}
