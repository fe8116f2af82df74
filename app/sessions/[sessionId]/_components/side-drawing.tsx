import type { SideView } from '@/lib/view/overview/side-view';
import styles from './side-drawing.module.css';

type SideDrawingProps = Readonly<{ view: SideView | null }>;

/** The approach along the docking axis, drawn from the points. */
export function SideDrawing({ view }: SideDrawingProps) {
  return (
    <section className="panel">
      <h2>From the side</h2>
      {view === null ? (
        <p className="soft">
          No position along and across the docking axis was estimated, so there is nothing to draw.
        </p>
      ) : (
        <SideSvg view={view} />
      )}
    </section>
  );
}

function SideSvg({ view }: Readonly<{ view: SideView }>) {
  const { plot } = view;
  return (
    <figure>
      <svg
        className={styles.drawing}
        viewBox={`0 0 ${view.width} ${view.height}`}
        role="img"
        aria-label={`Distance from the docking axis over distance from the port, ${view.stretch}. ${view.marks
          .map((mark) => mark.text)
          .join(', ')}.`}
      >
        <clipPath id="side-plot">
          <rect
            x={plot.left}
            y={plot.top}
            width={plot.right - plot.left}
            height={plot.bottom - plot.top}
          />
        </clipPath>
        <rect
          className={styles.sheet}
          x={plot.left}
          y={plot.top}
          width={plot.right - plot.left}
          height={plot.bottom - plot.top}
        />
        {view.xTicks.map((tick) => (
          <g key={tick.text}>
            <path className={styles.grid} d={`M${tick.at} ${plot.top}V${plot.bottom}`} />
            <text className={styles.tick} x={tick.at} y={plot.bottom + 17} textAnchor="middle">
              {tick.text}
            </text>
          </g>
        ))}
        {view.yTicks.map((tick) => (
          <g key={tick.text}>
            <path className={styles.grid} d={`M${plot.left} ${tick.at}H${plot.right}`} />
            <text className={styles.tick} x={plot.left - 7} y={tick.at + 4} textAnchor="end">
              {tick.text}
            </text>
          </g>
        ))}
        <text className={styles.unit} x={plot.right} y={view.height - 4} textAnchor="end">
          m from the port
        </text>
        <text className={styles.unit} x={0} y={view.height - 4}>
          m from the axis
        </text>
        <g clipPath="url(#side-plot)">
          {view.corridor?.paths.map((path) => (
            <path key={path} className={styles.corridor} d={path} />
          ))}
          {view.lines.map((line) => (
            <path
              key={line.label}
              className={line.dashed ? `${styles.line} ${styles.dashed}` : styles.line}
              d={line.path}
            />
          ))}
        </g>
        <path className={styles.axis} d={`M${plot.left} ${view.axisY}H${plot.right}`} />
        {view.corridor !== null && (
          <text
            className={styles.corridorLabel}
            x={view.corridor.x}
            y={view.corridor.y}
            textAnchor={view.corridor.anchor}
          >
            {view.corridor.text}
          </text>
        )}
        {view.marks.map((mark) => (
          <path
            key={`leader-${mark.text}-${mark.x}`}
            className={styles.leader}
            d={`M${mark.x} ${mark.y}V${mark.labelY + 4}`}
          />
        ))}
        {view.marks.map((mark) => (
          <g key={`${mark.text}-${mark.x}`}>
            <circle
              className={mark.isPlanned ? styles.planned : styles.unplanned}
              cx={mark.x}
              cy={mark.y}
              r="4"
            />
            <text
              className={mark.isPlanned ? styles.label : styles.labelUnplanned}
              x={mark.labelX}
              y={mark.labelY}
            >
              {mark.text}
            </text>
          </g>
        ))}
      </svg>
      <figcaption className="panel-note">
        Port at the right; {view.stretch}.
        {view.marks.some((mark) => !mark.isPlanned) && ' Open circles were not planned.'}
      </figcaption>
    </figure>
  );
}
