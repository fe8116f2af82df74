/**
 * A strip on its canvas: sheet, bands, grid, lines, marks and labels. Scales and ticks are the plot's own:
 * nothing is chosen here, so that the strip and the SVG of a document agree (held by a test).
 */
import { DASH_PX, type Plot, type PlotAxis, type PlotSeries } from '../../core/debrief/plot';
import type { ChartColours } from './chart-colours';
import { drawOver, drawUnder, onBox, type Pen, type PlotBox } from './chart-marks';
import { denseColumns, fillColumns, type PixelScale } from './strip-columns';
import type { StripPlot } from './strip-plot';
import { AXIS_WIDTH_PX, MARGIN_RIGHT_PX } from './time-window';

export type StripDrawing = Readonly<{
  strip: StripPlot;
  colours: ChartColours;
  widthPx: number;
  heightPx: number;
}>;

/** The calls of a canvas that a strip needs. */
export type StripPen = Pen & Pick<CanvasRenderingContext2D, 'clearRect' | 'lineCap' | 'lineJoin'>;

/** Room above and under the plot inside its canvas: half a line for the outermost tick texts. */
const PLOT_PAD_PX = 7;
const TICK_TEXT_PX = 12;
const TICK_PAD_PX = 6;
const LINE_PX = 1.5;
/** A lone value: a line of no visible length with round ends. */
const DOT_PX = 0.2;

/** The plot's box on a canvas of a size: every plot stands between the same edges, whatever its numbers. */
export function stripBox(size: Readonly<{ widthPx: number; heightPx: number }>): PlotBox {
  return {
    left: AXIS_WIDTH_PX,
    top: PLOT_PAD_PX,
    right: size.widthPx - MARGIN_RIGHT_PX,
    bottom: size.heightPx - PLOT_PAD_PX,
  };
}

/** Draws all of it, over whatever stood there. */
export function drawStrip(pen: StripPen, drawing: StripDrawing): void {
  const { strip, colours, widthPx, heightPx } = drawing;
  const { plot, area, spreads } = strip;
  const box = stripBox(drawing);
  pen.clearRect(0, 0, widthPx, heightPx);
  drawUnder(pen, plot, box, { colours, spreads, area });
  drawGrid(pen, plot, box, colours);
  drawLines(pen, plot, box, colours);
  drawFrame(pen, box, colours);
  drawOver(pen, plot, box, { colours, area });
}

/** The middle of a pixel: a line of one pixel drawn there is sharp. */
function sharp(px: number): number {
  return Math.round(px) + 0.5;
}

function drawGrid(pen: StripPen, plot: Plot, box: PlotBox, colours: ChartColours): void {
  pen.save();
  pen.setLineDash([]);
  pen.lineWidth = 1;
  pen.strokeStyle = colours.graticule;
  pen.fillStyle = colours.inkSoft;
  pen.font = `${TICK_TEXT_PX}px ${colours.mono}`;
  pen.textAlign = 'right';
  pen.textBaseline = 'middle';
  pen.beginPath();
  for (const { at } of plot.x.ticks) {
    const x = sharp(onBox(plot.x, at, box.left, box.right));
    pen.moveTo(x, box.top);
    pen.lineTo(x, box.bottom);
  }
  for (const { at, text } of plot.y.ticks) {
    const y = onBox(plot.y, at, box.bottom, box.top);
    pen.moveTo(box.left, sharp(y));
    pen.lineTo(box.right, sharp(y));
    pen.fillText(text, box.left - TICK_PAD_PX, y);
  }
  pen.stroke();
  pen.restore();
}

function drawFrame(pen: StripPen, box: PlotBox, colours: ChartColours): void {
  pen.save();
  pen.setLineDash([]);
  pen.lineWidth = 1;
  pen.strokeStyle = colours.frame;
  pen.beginPath();
  pen.moveTo(sharp(box.left), box.top);
  pen.lineTo(sharp(box.left), sharp(box.bottom));
  pen.lineTo(box.right, sharp(box.bottom));
  pen.stroke();
  pen.restore();
}

function drawLines(pen: StripPen, plot: Plot, box: PlotBox, colours: ChartColours): void {
  pen.save();
  pen.beginPath();
  pen.rect(box.left, box.top - LINE_PX, box.right - box.left, box.bottom - box.top + 2 * LINE_PX);
  pen.clip();
  pen.lineWidth = LINE_PX;
  pen.lineJoin = 'round';
  for (const series of plot.series) {
    const scales = [
      scaleOf(plot.x, box.left, box.right),
      scaleOf(plot.y, box.bottom, box.top),
    ] as const;
    const dense =
      series.dash === 'solid' ? denseColumns(series, scales, box.right - box.left) : null;
    if (dense !== null) {
      pen.fillStyle = colours.series[series.colour];
      fillColumns(pen, dense);
      continue;
    }
    pen.strokeStyle = colours.series[series.colour];
    pen.lineCap = series.dash === 'solid' ? 'round' : 'butt';
    pen.setLineDash([...DASH_PX[series.dash]]);
    pen.beginPath();
    traceLine(pen, series, scales);
    pen.stroke();
  }
  pen.restore();
}

function scaleOf(axis: PlotAxis, fromPx: number, toPx: number): PixelScale {
  return { from: axis.from, px: fromPx, pxPerUnit: onBox(axis, axis.from + 1, 0, toPx - fromPx) };
}

function traceLine(
  pen: StripPen,
  { x, y }: PlotSeries,
  [across, up]: readonly [PixelScale, PixelScale],
): void {
  let isJoined = false;
  for (let index = 0; index < y.length; index += 1) {
    const value = y[index] ?? null;
    const at = x[index];
    if (value === null || at === undefined) {
      isJoined = false;
      continue;
    }
    const px = across.px + (at - across.from) * across.pxPerUnit;
    const py = up.px + (value - up.from) * up.pxPerUnit;
    if (isJoined) pen.lineTo(px, py);
    else {
      pen.moveTo(px, py);
      if ((y[index + 1] ?? null) === null) pen.lineTo(px + DOT_PX, py);
    }
    isJoined = true;
  }
}
