import { useId } from 'react';
import type { BandDrawing, Residual } from '@/lib/view/band-drawing';
import styles from './comparison.module.css';

type BandSvgProps = Readonly<{
  drawing: BandDrawing;
  spoken: string;
  /** What the places are. */
  foot: string;
  /** Name of the opened run; null for none. */
  opened: string | null;
}>;

/** A flight over the band of the runs, the difference from the opened run beneath. */
export function BandSvg({ drawing, spoken, foot, opened }: BandSvgProps) {
  const id = useId();
  const { plot, residual } = drawing;
  const height = plot.bottom - plot.top;
  const ticksAt = residual?.bottom ?? plot.bottom;
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
            <path className={styles.grid} d={`M${at} ${plot.top}V${ticksAt}`} />
            <text className={styles.tick} x={at} y={ticksAt + 16} textAnchor="middle">
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
          <path className={styles.near} d={drawing.opened} />
          <path className={styles.flight} d={drawing.flight} />
        </g>
        <rect
          className={styles.sheet}
          x={plot.left}
          y={plot.top}
          width={plot.right - plot.left}
          height={height}
        />
        {residual !== null && <ResidualPlot residual={residual} plot={plot} />}
        <text className={styles.foot} x={plot.right} y={drawing.height - 4} textAnchor="end">
          {foot}
        </text>
      </svg>
      <figcaption className={styles.key}>
        <span>
          <KeyLine name="flight" /> flight
        </span>
        {drawing.median !== '' && (
          <span>
            <KeyLine name="median" /> median of the runs
          </span>
        )}
        {opened !== null && (
          <span>
            <KeyLine name="near" /> {opened}, beneath: flight minus it
          </span>
        )}
        {drawing.band !== '' && (
          <span>
            <svg className={styles.swatch} viewBox="0 0 26 10" aria-hidden="true">
              <rect className={styles.band} width="26" height="10" />
            </svg>{' '}
            5th to 95th percentile
          </span>
        )}
      </figcaption>
    </figure>
  );
}

type ResidualPlotProps = Readonly<{ residual: Residual; plot: BandDrawing['plot'] }>;

function ResidualPlot({ residual, plot }: ResidualPlotProps) {
  const { top, bottom, zeroY } = residual;
  return (
    <>
      {residual.yTicks.map(({ at, text }) => (
        <text key={text} className={styles.tick} x={plot.left - 7} y={at + 4} textAnchor="end">
          {text}
        </text>
      ))}
      <path className={styles.zero} d={`M${plot.left} ${zeroY}H${plot.right}`} />
      <path className={styles.residual} d={residual.path} />
      <rect
        className={styles.sheet}
        x={plot.left}
        y={top}
        width={plot.right - plot.left}
        height={bottom - top}
      />
    </>
  );
}

function KeyLine({ name }: Readonly<{ name: 'flight' | 'median' | 'near' }>) {
  return (
    <svg className={styles.swatch} viewBox="0 0 26 10" aria-hidden="true">
      <path className={styles[name]} d="M0 5H26" />
    </svg>
  );
}
