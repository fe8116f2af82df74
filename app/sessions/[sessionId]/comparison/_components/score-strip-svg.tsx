import type { ScoreStrip } from '@/lib/view/score-strip';
import styles from './comparison.module.css';

type ScoreStripSvgProps = Readonly<{ strip: ScoreStrip; isOut: 'in' | 'out' }>;

const WIDTH = 240;

/** Runs as thin lines, their middle nineteen of twenty as a bar, the flight as a tall mark. */
export function ScoreStripSvg({ strip, isOut }: ScoreStripSvgProps) {
  const x = (place: number): number => place * WIDTH;
  const runs = strip.runs.map((place) => `M${x(place).toFixed(1)} 4V14`).join('');
  return (
    <svg
      className={styles.stripDrawing}
      viewBox={`0 0 ${WIDTH} 18`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <rect
        className={styles.band}
        x={x(strip.low)}
        y="5"
        width={x(strip.high) - x(strip.low)}
        height="8"
      />
      <path className={styles.run} d={runs} />
      <path className={styles.middle} d={`M${x(strip.middle)} 3V15`} />
      <rect
        className={isOut === 'out' ? styles.flightOut : styles.flightMark}
        x={x(strip.flight) - 2}
        y="0"
        width="4"
        height="18"
      />
    </svg>
  );
}
