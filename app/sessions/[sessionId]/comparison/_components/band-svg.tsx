import { useId } from 'react';
import type { BandDrawing } from '@/lib/view/band-drawing';
import styles from './comparison.module.css';

type BandSvgProps = Readonly<{ drawing: BandDrawing; spoken: string }>;

/** A flight over the band of the runs; distances run to the port at the right. */
export function BandSvg({ drawing, spoken }: BandSvgProps) {
  const id = useId();
  const { plot } = drawing;
  const height = plot.bottom - plot.top;
  return (
    <figure>
      <svg
        className={styles.drawing}
        viewBox={`0 0 ${drawing.width} ${drawing.height}`}
        role="img"
        aria-label={spoken}
      >
        <clipPath id={id}>
          <rect x={plot.left} y={plot.top} width={plot.right - plot.left} height={height} />
        </clipPath>
        {drawing.outside.map(({ x, width }) => (
          <rect
            key={x}
            className={styles.outside}
            x={x}
            y={plot.top}
            width={width}
            height={height}
          />
        ))}
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
        <g clipPath={`url(#${id})`}>
          <path className={styles.band} d={drawing.band} />
          {drawing.zeroY !== null && (
            <path className={styles.zero} d={`M${plot.left} ${drawing.zeroY}H${plot.right}`} />
          )}
          <path className={styles.median} d={drawing.median} />
          <path className={styles.near} d={drawing.nearest} />
          <path className={styles.flight} d={drawing.flight} />
        </g>
        <rect
          className={styles.sheet}
          x={plot.left}
          y={plot.top}
          width={plot.right - plot.left}
          height={height}
        />
        <text className={styles.foot} x={plot.right} y={drawing.height - 4} textAnchor="end">
          m from the port, along the axis
        </text>
      </svg>
      <figcaption className={styles.key}>
        <span>
          <KeyLine name="flight" /> flight
        </span>
        <span>
          <KeyLine name="median" /> median of the runs
        </span>
        <span>
          <KeyLine name="near" /> nearest run
        </span>
        <span>
          <svg className={styles.swatch} viewBox="0 0 26 10" aria-hidden="true">
            <rect className={styles.band} width="26" height="10" />
          </svg>{' '}
          5th to 95th percentile
        </span>
      </figcaption>
    </figure>
  );
}

function KeyLine({ name }: Readonly<{ name: 'flight' | 'median' | 'near' }>) {
  return (
    <svg className={styles.swatch} viewBox="0 0 26 10" aria-hidden="true">
      <path className={styles[name]} d="M0 5H26" />
    </svg>
  );
}
