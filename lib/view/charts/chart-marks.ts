/** What a strip shows beside its lines: bands behind, spread of dashed traces, marks, labels. */
import {
  axisRatio,
  DASH_PX,
  type Plot,
  type PlotAxis,
  type PlotBand,
} from '../../core/debrief/plot';
import { spreadLabels } from '../../core/debrief/spread-labels';
import type { ChartColours } from './chart-colours';
import { fitText } from './label-layout';
import type { NamedArea, SeriesSpread } from './strip-plot';
import { MARGIN_RIGHT_PX } from './time-window';

/** The plot's box on its canvas, pixels. */
export type PlotBox = Readonly<{ left: number; top: number; right: number; bottom: number }>;

/** The drawing calls used here; a test gives a recorder in place of a canvas. */
export type Pen = Pick<
  CanvasRenderingContext2D,
  | 'save'
  | 'restore'
  | 'beginPath'
  | 'closePath'
  | 'rect'
  | 'clip'
  | 'moveTo'
  | 'lineTo'
  | 'stroke'
  | 'fill'
  | 'fillRect'
  | 'fillText'
  | 'setLineDash'
  | 'fillStyle'
  | 'strokeStyle'
  | 'lineWidth'
  | 'globalAlpha'
  | 'font'
  | 'textAlign'
  | 'textBaseline'
>;

const LABEL_PX = 12;
const LABEL_LINE_PX = 15;
const SAMPLE_PX = 18;
const HATCH_PX = 7;
const BAND_ALPHA = 0.16;
const SPREAD_ALPHA = 0.28;
const AREA_ALPHA = 0.2;

/** Where a value of an axis lies on the canvas. */
export function onBox(axis: PlotAxis, value: number, fromPx: number, toPx: number): number {
  return fromPx + axisRatio(axis, value) * (toPx - fromPx);
}

/** Sheet, bands and spreads: everything under the grid and the lines. */
export function drawUnder(
  pen: Pen,
  plot: Plot,
  box: PlotBox,
  look: Readonly<{
    colours: ChartColours;
    spreads: readonly SeriesSpread[];
    area?: NamedArea | null;
  }>,
): void {
  pen.save();
  pen.beginPath();
  pen.rect(box.left, box.top, box.right - box.left, box.bottom - box.top);
  pen.clip();
  pen.fillStyle = look.colours.sheet;
  pen.fillRect(box.left, box.top, box.right - box.left, box.bottom - box.top);
  for (const band of plot.bands) drawBand(pen, plot, box, { band, colours: look.colours });
  if (look.area != null) {
    pen.fillStyle = look.colours.inkSoft;
    pen.globalAlpha = AREA_ALPHA;
    for (const run of runs(look.area)) fillRun(pen, plot, box, { spread: look.area, run });
    pen.globalAlpha = 1;
  }
  for (const spread of look.spreads) {
    const series = plot.series.find((each) => each.id === spread.seriesId);
    if (series === undefined) continue;
    pen.fillStyle = look.colours.series[series.colour];
    pen.globalAlpha = SPREAD_ALPHA;
    for (const run of runs(spread)) fillRun(pen, plot, box, { spread, run });
    pen.globalAlpha = 1;
  }
  pen.restore();
}

/** Marks, and at the right edge a sample of each line with its name. */
export function drawOver(
  pen: Pen,
  plot: Plot,
  box: PlotBox,
  look: Readonly<{ colours: ChartColours; area?: NamedArea | null }>,
): void {
  const { colours } = look;
  pen.save();
  for (const mark of plot.marks) {
    const x = Math.round(onBox(plot.x, mark.at, box.left, box.right)) + 0.5;
    pen.strokeStyle = colours.tones[mark.tone];
    pen.lineWidth = 1.25;
    pen.setLineDash([3, 3]);
    pen.beginPath();
    pen.moveTo(x, box.top);
    pen.lineTo(x, box.bottom);
    pen.stroke();
  }
  drawLabels(pen, plot, box, look);
  pen.restore();
}

function drawBand(
  pen: Pen,
  plot: Plot,
  box: PlotBox,
  of: Readonly<{ band: PlotBand; colours: ChartColours }>,
): void {
  const { band, colours } = of;
  const alongX = band.along === 'x';
  const left = alongX ? onBox(plot.x, band.from, box.left, box.right) : box.left;
  const right = alongX ? onBox(plot.x, band.to, box.left, box.right) : box.right;
  const top = alongX ? box.top : onBox(plot.y, band.to, box.bottom, box.top);
  const bottom = alongX ? box.bottom : onBox(plot.y, band.from, box.bottom, box.top);
  const width = Math.max(1, right - left);
  if (band.tone !== 'gap') {
    pen.globalAlpha = band.tone === 'beyond' || band.tone === 'finding' ? BAND_ALPHA : 1;
    pen.fillStyle = colours.tones[band.tone];
    pen.fillRect(left, top, width, bottom - top);
    pen.globalAlpha = 1;
    return;
  }
  pen.save();
  pen.beginPath();
  pen.rect(left, top, width, bottom - top);
  pen.clip();
  pen.strokeStyle = colours.tones.gap;
  pen.globalAlpha = 0.55;
  pen.lineWidth = 1;
  pen.beginPath();
  const rise = bottom - top;
  const from = Math.max(left, box.left) - rise;
  const to = Math.min(left + width, box.right);
  for (let x = from - (from % HATCH_PX); x < to; x += HATCH_PX) {
    pen.moveTo(x, bottom);
    pen.lineTo(x + rise, top);
  }
  pen.stroke();
  pen.restore();
}

type Run = Readonly<{ from: number; to: number }>;

function runs(spread: Omit<SeriesSpread, 'seriesId'>): readonly Run[] {
  const found: Run[] = [];
  let from = -1;
  for (let index = 0; index <= spread.x.length; index += 1) {
    const ends = index === spread.x.length || spread.low[index] === null;
    if (!ends && from === -1) from = index;
    if (ends && from !== -1) {
      found.push({ from, to: index });
      from = -1;
    }
  }
  return found;
}

function fillRun(
  pen: Pen,
  plot: Plot,
  box: PlotBox,
  of: Readonly<{ spread: Omit<SeriesSpread, 'seriesId'>; run: Run }>,
): void {
  const { spread, run } = of;
  const at = (index: number, side: readonly (number | null)[]): readonly [number, number] => [
    onBox(plot.x, spread.x[index] ?? Number.NaN, box.left, box.right),
    onBox(plot.y, side[index] ?? Number.NaN, box.bottom, box.top),
  ];
  pen.beginPath();
  for (let index = run.from; index < run.to; index += 1) pen.lineTo(...at(index, spread.high));
  for (let index = run.to - 1; index >= run.from; index -= 1) pen.lineTo(...at(index, spread.low));
  pen.closePath();
  pen.fill();
}

/** Its text at the height where the line or area ends, drawn in its colour with a sample of it. */
type Label = Readonly<{
  text: string;
  value: number;
  colour: string;
  dash: readonly number[] | null;
}>;

function labelsOf(plot: Plot, { colours, area }: Parameters<typeof drawOver>[3]): readonly Label[] {
  const lines = plot.series.flatMap((series): readonly Label[] => {
    const value = series.y.findLast((each) => each !== null);
    if (value === undefined || value === null) return [];
    const text = `${series.label}${outsideWord(plot.y, series)}`;
    return [{ text, value, colour: colours.series[series.colour], dash: DASH_PX[series.dash] }];
  });
  const last = area?.x.findLastIndex((x) => x <= plot.x.to) ?? -1;
  const [low, high] = [area?.low[last] ?? null, area?.high[last] ?? null];
  if (area == null || low === null || high === null) return lines;
  const value = (low + high) / 2;
  return [...lines, { text: area.label, value, colour: colours.inkSoft, dash: null }];
}

function drawLabels(
  pen: Pen,
  plot: Plot,
  box: PlotBox,
  look: Parameters<typeof drawOver>[3],
): void {
  const labels = labelsOf(plot, look);
  const wanted = labels.map(({ value }) => {
    const y = onBox(plot.y, value, box.bottom, box.top);
    return Math.min(box.bottom, Math.max(box.top, y));
  });
  const places = spreadLabels(wanted, {
    gapPx: LABEL_LINE_PX,
    fromPx: box.top + LABEL_PX / 2,
    toPx: box.bottom - LABEL_PX / 2,
  });
  pen.font = `${LABEL_PX}px ${look.colours.text}`;
  pen.textAlign = 'left';
  pen.textBaseline = 'middle';
  pen.lineWidth = 1.5;
  labels.forEach((label, index) => {
    const y = places[index] ?? box.top;
    const x = box.right + 6;
    pen.fillStyle = label.colour;
    if (label.dash === null) {
      pen.globalAlpha = 2 * AREA_ALPHA;
      pen.fillRect(x, y - 4, SAMPLE_PX, 8);
      pen.globalAlpha = 1;
    } else {
      pen.strokeStyle = label.colour;
      pen.setLineDash([...label.dash]);
      pen.beginPath();
      pen.moveTo(x, y);
      pen.lineTo(x + SAMPLE_PX, y);
      pen.stroke();
    }
    const room = MARGIN_RIGHT_PX - SAMPLE_PX - 12;
    pen.fillText(fitText(label.text, room, LABEL_PX), x + SAMPLE_PX + 5, y);
  });
}

/** A line that ends outside the axis says where it is, so that its label is not taken for a value. */
function outsideWord(axis: PlotAxis, series: Plot['series'][number]): string {
  const last = series.y.findLast((value) => value !== null) ?? null;
  if (last === null) return '';
  const ratio = axisRatio(axis, last);
  if (ratio > 1.001) return ', above';
  return ratio < -0.001 ? ', below' : '';
}
