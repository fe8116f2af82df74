import type { ClockDrawing as Drawing } from '@/lib/view/clock/clock-drawing';
import styles from './clock-drawing.module.css';
import { ResidualStrip } from './residual-strip';

type ClockDrawingProps = Readonly<{ drawing: Drawing | null }>;

/** Log and telemetry side by side; the table under it says the same in numbers. */
export function ClockDrawing({ drawing }: ClockDrawingProps) {
  return (
    <section className="panel">
      <h2>Log and telemetry</h2>
      {drawing === null ? (
        <p className="soft">
          There is nothing to draw: no range was estimated, or nothing in this source can be held
          against it.
        </p>
      ) : (
        <figure>
          <ul className={`plain ${styles.legend}`}>
            {drawing.legend.map(({ shape, path, text }) => (
              <li key={shape}>
                <svg width="24" height="12" viewBox="0 0 24 12" aria-hidden="true">
                  <path className={`${styles.before} ${styles[shape]}`} d={path.before} />
                  <path className={`${styles.after} ${styles[shape]}`} d={path.after} />
                </svg>
                {text}
              </li>
            ))}
          </ul>
          <DrawingSvg drawing={drawing} />
          <figcaption className="panel-note">{drawing.note}</figcaption>
        </figure>
      )}
    </section>
  );
}

function DrawingSvg({ drawing }: Readonly<{ drawing: Drawing }>) {
  const { plot } = drawing;
  return (
    <svg
      className={styles.drawing}
      viewBox={`0 0 ${drawing.width} ${drawing.height}`}
      role="img"
      aria-label={`Estimated range over session time with ${drawing.marks.length} marks, and their residuals before and after. The table below holds the same values.`}
    >
      <text className={styles.name} x={plot.left} y={plot.top - 9}>
        range, m
      </text>
      {drawing.xTicks.map(({ at, text }) => (
        <g key={text}>
          <path className={styles.grid} d={`M${at} ${plot.top}V${plot.bottom}`} />
          <text className={styles.tick} x={at} y={plot.bottom + 16} textAnchor="middle">
            {text}
          </text>
        </g>
      ))}
      {drawing.yTicks.map(({ at, text }) => (
        <g key={text}>
          <path className={styles.grid} d={`M${plot.left} ${at}H${plot.right}`} />
          <text className={styles.tick} x={plot.left - 7} y={at + 4} textAnchor="end">
            {text}
          </text>
        </g>
      ))}
      <path className={styles.line} d={drawing.line} />
      {drawing.marks.map(({ key, shape, before, after, way, title }) => (
        <g key={key}>
          <title>{title}</title>
          {way !== null && <path className={styles.way} d={way} />}
          {before !== null && <path className={`${styles.before} ${styles[shape]}`} d={before} />}
          <path className={`${styles.after} ${styles[shape]}`} d={after} />
        </g>
      ))}
      {drawing.strips.map((strip) => (
        <ResidualStrip key={strip.side} strip={strip} xTicks={drawing.xTicks} />
      ))}
    </svg>
  );
}
