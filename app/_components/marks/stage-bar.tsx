import type { StageMark } from '@/lib/view/capture-view';
import type { Tone } from '@/lib/view/labels';
import styles from './marks.module.css';

type StageBarProps = Readonly<{ mark: StageMark; tone: Tone }>;

/** When a stage was accepted, as a stretch, and when it was flown, as a mark. */
export function StageBar({ mark, tone }: StageBarProps) {
  return (
    <svg className={styles.bar} viewBox="0 0 200 16" preserveAspectRatio="none" aria-hidden="true">
      <rect className={styles.track} x="0" y="7" width="200" height="2" />
      {mark.planned !== null && (
        <rect
          className={styles.allowed}
          x={mark.planned.from * 200}
          y="2.5"
          width={Math.max(1, (mark.planned.to - mark.planned.from) * 200)}
          height="11"
        />
      )}
      {mark.at !== null && (
        <rect
          className={tone === 'beyond' ? styles.over : styles.point}
          x={Math.min(196, mark.at * 200)}
          y="2"
          width="4"
          height="12"
        />
      )}
    </svg>
  );
}
