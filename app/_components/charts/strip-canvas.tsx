'use client';

import { useEffect, useRef } from 'react';
import type { ChartColours } from '@/lib/view/charts/chart-colours';
import type { StripPlot } from '@/lib/view/charts/strip-plot';
import type { StripChart } from './chart-runtime';
import styles from './strip-canvas.module.css';

type StripCanvasProps = Readonly<{
  strip: StripPlot;
  colours: ChartColours | null;
  /** Null until it is known: nothing is drawn before. */
  widthPx: number | null;
  heightPx: number;
  /** What the picture shows, in a sentence. */
  label: string;
}>;

let runtime: Promise<typeof import('./chart-runtime')> | null = null;

/** The library and the faces it writes with: text drawn before a face is there would be measured wrong. */
function loadRuntime(): Promise<typeof import('./chart-runtime')> {
  runtime ??= Promise.all([
    import('./chart-runtime'),
    document.fonts.load('12px "IBM Plex Sans"').catch(() => []),
    document.fonts.load('12px "IBM Plex Mono"').catch(() => []),
  ]).then(([module]) => module);
  return runtime;
}

/** What stands on the canvas, for whoever measures or tests: which window, from how fine an envelope. */
function tellDrawn(canvas: HTMLCanvasElement | null, { plot, grain, hasValues }: StripPlot): void {
  if (canvas === null) return;
  canvas.dataset.window = `${plot.x.from} ${plot.x.to}`;
  if (hasValues) canvas.dataset.grain = grain;
}

/** One strip. The cursor and the selection lie above it and never make it draw again. */
export function StripCanvas({ strip, colours, widthPx, heightPx, label }: StripCanvasProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<StripChart | null>(null);
  const latest = useRef<Parameters<StripChart['draw']>[0] | null>(null);

  useEffect(() => {
    if (colours === null || widthPx === null) return;
    latest.current = { strip, colours, widthPx, heightPx };
    if (chart.current !== null) {
      chart.current.draw(latest.current);
      tellDrawn(canvas.current, strip);
      return;
    }
    void loadRuntime().then(({ makeStripChart }) => {
      if (canvas.current === null || latest.current === null) return;
      if (chart.current === null) chart.current = makeStripChart(canvas.current, latest.current);
      else chart.current.draw(latest.current);
      tellDrawn(canvas.current, latest.current.strip);
    });
  }, [strip, colours, widthPx, heightPx]);

  useEffect(
    () => () => {
      chart.current?.destroy();
      chart.current = null;
    },
    [],
  );

  return (
    <canvas
      ref={canvas}
      className={styles.canvas}
      width={1}
      height={heightPx}
      role="img"
      aria-label={label}
    />
  );
}
