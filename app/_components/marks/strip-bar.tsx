import type { Strip } from '@/lib/view/phases-view';
import styles from './marks.module.css';

type StripBarProps = Readonly<{ strips: readonly Strip[] }>;

/** Where runs lie in the stretch that was evaluated. */
export function StripBar({ strips }: StripBarProps) {
  return (
    <svg className={styles.bar} viewBox="0 0 200 16" preserveAspectRatio="none" aria-hidden="true">
      <rect className={styles.track} x="0" y="7" width="200" height="2" />
      {strips.map((strip) => (
        <rect
          key={strip.from}
          className={`${styles.run} ${styles[strip.motion]}`}
          x={strip.from * 200}
          y="2"
          width={Math.max(1, (strip.to - strip.from) * 200)}
          height="12"
        />
      ))}
    </svg>
  );
}
