import type { Tone } from '@/lib/view/labels';
import type { MarginBar as Margin } from '@/lib/view/rules-view';
import styles from './marks.module.css';

type MarginBarProps = Readonly<{ bar: Margin; tone: Tone }>;

/** Half of the drawing's width, less room for the end of a whisker. */
const HALF = 96;
const FILLS: Readonly<Record<Tone, string>> = {
  inside: 'room',
  beyond: 'over',
  unsure: 'open',
  quiet: 'open',
};

/** A margin from the middle: to the right room is left, to the left the limit was passed. */
export function MarginBar({ bar, tone }: MarginBarProps) {
  const at = bar.at * HALF;
  return (
    <svg
      className={styles.bar}
      viewBox="-100 0 200 16"
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <rect className={styles.track} x="-100" y="7" width="200" height="2" />
      <rect
        className={styles[FILLS[tone]]}
        x={Math.min(0, at)}
        y="4"
        width={Math.abs(at)}
        height="8"
      />
      <line className={styles.whisker} x1={bar.from * HALF} x2={bar.to * HALF} y1="8" y2="8" />
      <line className={styles.zero} x1="0" x2="0" y1="0" y2="16" />
    </svg>
  );
}
