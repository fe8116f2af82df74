/** Loaded on first use in the browser: the chart library with only the parts that a scatter needs. */
import {
  Chart,
  type ChartArea,
  LinearScale,
  LineElement,
  PointElement,
  type Scale,
  ScatterController,
  Tooltip,
} from 'chart.js';
import type { ChartColours } from '@/lib/view/charts/chart-colours';
import { type ScatterPoint, scatterConfig } from '@/lib/view/charts/scatter-config';
import type { DifferencePicture } from '@/lib/view/navigation/difference-picture';

Chart.register(ScatterController, LineElement, PointElement, LinearScale, Tooltip);

type ScatterDrawing = Readonly<{ picture: DifferencePicture; colours: ChartColours }>;

/** One scatter on one canvas; `draw` replaces everything it shows. */
export type ScatterChart = Readonly<{
  draw: (drawing: ScatterDrawing) => void;
  destroy: () => void;
}>;

const SHADE = 0.16;

type Shown = Readonly<{
  ctx: CanvasRenderingContext2D;
  chartArea: ChartArea;
  scales: Record<string, Scale>;
}>;

/** The 95 % interval of each band of range, under all lines and points. */
function shadeBands({ ctx, scales }: Shown, { picture, colours }: ScatterDrawing): void {
  const { x, y } = scales;
  if (x === undefined || y === undefined) return;
  ctx.save();
  ctx.globalAlpha = SHADE;
  ctx.fillStyle = colours.series[2];
  for (const { fromM, toM, biasM, halfM } of picture.bands) {
    if (halfM === null) continue;
    const left = x.getPixelForValue(fromM);
    const top = y.getPixelForValue(biasM + halfM);
    ctx.fillRect(
      left,
      top,
      x.getPixelForValue(toM) - left,
      y.getPixelForValue(biasM - halfM) - top,
    );
  }
  ctx.restore();
}

export function makeScatterChart(canvas: HTMLCanvasElement, first: ScatterDrawing): ScatterChart {
  let shown = first;
  const chart: Chart<'scatter', ScatterPoint[]> = new Chart(canvas, {
    ...scatterConfig(first.picture, first.colours),
    plugins: [{ id: 'bands', beforeDatasetsDraw: (at) => shadeBands(at, shown) }],
  });
  return {
    draw: (drawing) => {
      shown = drawing;
      const next = scatterConfig(drawing.picture, drawing.colours);
      chart.data = next.data;
      if (next.options !== undefined) chart.options = next.options;
      chart.update('none');
    },
    destroy: () => chart.destroy(),
  };
}
