import type { DrawnTick, ResidualStrip as Strip } from '@/lib/view/clock/residual-strip';
import styles from './clock-drawing.module.css';

type ResidualStripProps = Readonly<{ strip: Strip; xTicks: readonly DrawnTick[] }>;

/** Residuals on a scale of their own, over the same session time as the range. */
export function ResidualStrip({ strip, xTicks }: ResidualStripProps) {
  const { box, side } = strip;
  return (
    <g>
      <text className={styles.name} x={box.left} y={box.top - 8}>
        {strip.title}
      </text>
      <rect
        className={styles.sheet}
        x={box.left}
        y={box.top}
        width={box.right - box.left}
        height={box.bottom - box.top}
      />
      {xTicks.map(({ at, text }) => (
        <path key={text} className={styles.grid} d={`M${at} ${box.top}V${box.bottom}`} />
      ))}
      {strip.yTicks.map(({ at, text }) => (
        <g key={text}>
          <path className={styles.grid} d={`M${box.left} ${at}H${box.right}`} />
          <text className={styles.tick} x={box.left - 7} y={at + 4} textAnchor="end">
            {text}
          </text>
        </g>
      ))}
      {strip.zero !== null && (
        <path className={styles.zero} d={`M${box.left} ${strip.zero}H${box.right}`} />
      )}
      {strip.marks.map(({ key, shape, path, spread, title }) => (
        <g key={key}>
          <title>{title}</title>
          {spread !== null && <path className={styles.spread} d={spread} />}
          <path className={`${styles[side]} ${styles[shape]}`} d={path} />
        </g>
      ))}
    </g>
  );
}
