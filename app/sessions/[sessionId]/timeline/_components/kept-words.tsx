import styles from './side-sheet.module.css';

type KeptWordsProps = Readonly<{ throwAway: () => void }>;

/** Says that words of an earlier visit, never saved, stand in the form again. */
export function KeptWords({ throwAway }: KeptWordsProps) {
  return (
    <p className={styles.note}>
      Words that were not saved have been taken up again.{' '}
      <button type="button" className="button" onClick={throwAway}>
        Throw them away
      </button>
    </p>
  );
}
