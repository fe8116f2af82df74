import type { Verdict } from '@/lib/core/reconstruction/reconstruction';
import { verdictTone } from '@/lib/view/labels';
import styles from './marks.module.css';

type VerdictMarkProps = Readonly<{ verdict: Verdict }>;

/** One shape a verdict, so that it reads without colour. */
const SHAPES: Readonly<Record<Verdict, string>> = {
  met: 'M3 8.5 6.5 12 13 4',
  broken: 'M3.5 3.5 12.5 12.5M12.5 3.5 3.5 12.5',
  undecided: 'M3 9.5Q5.5 4.5 8 8T13 6.5',
  'not applicable': 'M3 8H13',
  'not evaluated': 'M8 3A5 5 0 1 0 8 13 5 5 0 1 0 8 3',
};

/** A verdict: its mark and its word. */
export function VerdictMark({ verdict }: VerdictMarkProps) {
  return (
    <span className={`${styles.verdict} ${styles[verdictTone(verdict)]}`}>
      <svg viewBox="0 0 16 16" width="14" height="14" aria-hidden="true">
        <path d={SHAPES[verdict]} />
      </svg>
      {verdict}
    </span>
  );
}
