import type { Gauge } from '@/lib/view/contact-view';
import styles from './marks.module.css';

type GaugeBarProps = Readonly<{ gauge: Gauge }>;

/** A value on a scale that shows the stretch a table allows, with its 95 % interval. */
export function GaugeBar({ gauge }: GaugeBarProps) {
  const at = gauge.at * 200;
  return (
    <svg className={styles.bar} viewBox="0 0 200 16" preserveAspectRatio="none" aria-hidden="true">
      <rect className={styles.track} x="0" y="7" width="200" height="2" />
      <rect
        className={styles.allowed}
        x={gauge.low * 200}
        y="2.5"
        width={(gauge.high - gauge.low) * 200}
        height="11"
      />
      <line className={styles.whisker} x1={gauge.from * 200} x2={gauge.to * 200} y1="8" y2="8" />
      {gauge.isBeyondScale ? (
        <path className={styles.over} d="M186 2 199 8 186 14Z" />
      ) : (
        <rect className={styles.point} x={Math.max(0, at - 2.5)} y="3" width="5" height="10" />
      )}
    </svg>
  );
}
