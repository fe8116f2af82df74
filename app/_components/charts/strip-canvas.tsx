'use client';

import { useLayoutEffect, useRef } from 'react';
import type { ChartColours } from '@/lib/view/charts/chart-colours';
import { drawStrip, type StripDrawing } from '@/lib/view/charts/strip-drawing';
import type { StripPlot } from '@/lib/view/charts/strip-plot';
import styles from './strip-canvas.module.css';
import { whenFacesAreThere } from './strip-faces';

type StripCanvasProps = Readonly<{
  strip: StripPlot;
  colours: ChartColours | null;
  /** Null until it is known: nothing is drawn before. */
  widthPx: number | null;
  heightPx: number;
  /** What the picture shows, in a sentence. */
  label: string;
}>;

/** Draws at the dots of the screen; the canvas is made anew only where its size changes. */
function drawOn(canvas: HTMLCanvasElement, drawing: StripDrawing): void {
  const pen = canvas.getContext('2d');
  if (pen === null) return;
  const dots = window.devicePixelRatio;
  const width = Math.round(drawing.widthPx * dots);
  const height = Math.round(drawing.heightPx * dots);
  if (canvas.width !== width || canvas.height !== height) {
    canvas.width = width;
    canvas.height = height;
    canvas.style.width = `${drawing.widthPx}px`;
    canvas.style.height = `${drawing.heightPx}px`;
  }
  pen.setTransform(dots, 0, 0, dots, 0, 0);
  drawStrip(pen, drawing);
  tellDrawn(canvas, drawing.strip);
}

/** What stands on the canvas, for whoever measures or tests: which window, from how fine an envelope. */
function tellDrawn(canvas: HTMLCanvasElement, { plot, grain, hasValues }: StripPlot): void {
  canvas.dataset.window = `${plot.x.from} ${plot.x.to}`;
  if (hasValues) canvas.dataset.grain = grain;
}

/** One strip. The cursor and the selection lie above it and never make it draw again. */
export function StripCanvas({ strip, colours, widthPx, heightPx, label }: StripCanvasProps) {
  const canvas = useRef<HTMLCanvasElement>(null);

  // In the frame of the lanes and the axis: a picture that follows a frame later looks torn.
  useLayoutEffect(() => {
    const element = canvas.current;
    if (element === null || colours === null || widthPx === null) return;
    const draw = (): void => drawOn(element, { strip, colours, widthPx, heightPx });
    draw();
    return whenFacesAreThere(draw);
  }, [strip, colours, widthPx, heightPx]);

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
