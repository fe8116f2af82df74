'use client';

import { type RefObject, useEffect, useRef, useState } from 'react';
import { plotWidthPx } from '@/lib/view/charts/time-window';

/** Lanes are laid out for this cell before the page has been measured; no trace is drawn on it. */
const CELL_BEFORE_PX = 1160;

export type MeasuredWidth = Readonly<{
  /** Belongs to a cell that is as wide as every plot with its axis and labels. */
  ruler: RefObject<HTMLDivElement | null>;
  widthPx: number;
  state: 'assumed' | 'measured';
}>;

/**
 * Width of the plots, whole pixels.
 *
 * The observer reports after layout and again whenever it changes, so a width from before the style
 * sheets arrived is mended by itself.
 */
export function usePlotWidth(): MeasuredWidth {
  const ruler = useRef<HTMLDivElement>(null);
  const [cellPx, setCellPx] = useState<number | null>(null);
  useEffect(() => {
    const cell = ruler.current;
    if (cell === null) return;
    const observer = new ResizeObserver(() => {
      if (cell.clientWidth > 0) setCellPx(Math.floor(cell.clientWidth));
    });
    observer.observe(cell);
    return () => observer.disconnect();
  }, []);
  return {
    ruler,
    widthPx: plotWidthPx(cellPx ?? CELL_BEFORE_PX),
    state: cellPx === null ? 'assumed' : 'measured',
  };
}
