/** Loaded on first use in the browser: the chart library with only the parts that strips need. */
import { Chart, LinearScale, LineController, LineElement, PointElement } from 'chart.js';
import type { ChartColours } from '@/lib/view/charts/chart-colours';
import { type ChartPoint, chartConfig } from '@/lib/view/charts/chart-config';
import { drawOver, drawUnder } from '@/lib/view/charts/chart-marks';
import type { StripPlot } from '@/lib/view/charts/strip-plot';

Chart.register(LineController, LineElement, PointElement, LinearScale);

export type StripDrawing = Readonly<{
  strip: StripPlot;
  colours: ChartColours;
  widthPx: number;
  heightPx: number;
}>;

/** One strip on one canvas; `draw` replaces everything it shows. */
export type StripChart = Readonly<{ draw: (drawing: StripDrawing) => void; destroy: () => void }>;

export function makeStripChart(canvas: HTMLCanvasElement, first: StripDrawing): StripChart {
  let shown = first;
  canvas.width = first.widthPx;
  canvas.height = first.heightPx;
  const config = chartConfig(first.strip.plot, first.colours);
  const chart: Chart<'line', ChartPoint[]> = new Chart(canvas, {
    ...config,
    plugins: [
      {
        id: 'strip',
        beforeDraw: ({ ctx, chartArea }) =>
          drawUnder(ctx, shown.strip.plot, chartArea, {
            colours: shown.colours,
            spreads: shown.strip.spreads,
            area: shown.strip.area,
          }),
        afterDraw: ({ ctx, chartArea }) =>
          drawOver(ctx, shown.strip.plot, chartArea, {
            colours: shown.colours,
            area: shown.strip.area,
          }),
      },
    ],
  });
  return {
    draw: (drawing) => {
      const resized = drawing.widthPx !== shown.widthPx || drawing.heightPx !== shown.heightPx;
      shown = drawing;
      const next = chartConfig(drawing.strip.plot, drawing.colours);
      chart.data = next.data;
      if (next.options !== undefined) chart.options = next.options;
      if (resized) chart.resize(drawing.widthPx, drawing.heightPx);
      chart.update('none');
    },
    destroy: () => chart.destroy(),
  };
}
