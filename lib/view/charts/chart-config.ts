/**
 * A Plot as the configuration of an interactive chart. Scales and ticks are the plot's own: nothing
 * is chosen here, so the chart and the SVG of a document agree (held by a test).
 */
import type { ChartConfiguration, ChartDataset, ScaleOptionsByType } from 'chart.js';
import { DASH_PX, type Plot, type PlotAxis, type PlotSeries } from '../../core/debrief/plot';
import type { ChartColours } from './chart-colours';
import { AXIS_WIDTH_PX, MARGIN_RIGHT_PX } from './time-window';

export type ChartPoint = { x: number; y: number };
export type StripConfiguration = ChartConfiguration<'line', ChartPoint[]>;

const FONT_PX = 12;

/** Room above and under the plot inside its canvas: half a line for the outermost tick texts. */
export const PLOT_PAD_PX = 7;

/**
 * @param plot axes, ticks and series
 * @param colours the look as it is now
 * @returns configuration without plugins; the caller adds those that draw bands, marks and labels
 */
export function chartConfig(plot: Plot, colours: ChartColours): StripConfiguration {
  return {
    type: 'line',
    data: { datasets: plot.series.map((series) => dataset(series, plot.x, colours)) },
    options: {
      responsive: false,
      maintainAspectRatio: false,
      animation: false,
      parsing: false,
      normalized: true,
      events: [],
      layout: {
        autoPadding: false,
        padding: { left: 0, right: MARGIN_RIGHT_PX, top: PLOT_PAD_PX, bottom: PLOT_PAD_PX },
      },
      scales: {
        x: {
          ...axis(plot.x, colours),
          ticks: { display: false },
          afterFit: (scale) => {
            scale.height = 0;
          },
        },
        y: {
          ...axis(plot.y, colours),
          ticks: {
            color: colours.inkSoft,
            font: { family: colours.mono, size: FONT_PX },
            padding: 6,
            autoSkip: false,
          },
          afterFit: (scale) => {
            scale.width = AXIS_WIDTH_PX;
            // The outermost texts have their room in the layout's padding.
            scale.paddingTop = 0;
            scale.paddingBottom = 0;
          },
        },
      },
    },
  };
}

function axis(
  plotAxis: PlotAxis,
  colours: ChartColours,
): Pick<ScaleOptionsByType<'linear'>, 'type' | 'min' | 'max' | 'afterBuildTicks'> &
  Readonly<{ grid: { color: string; drawTicks: false }; border: { color: string } }> {
  return {
    type: 'linear',
    min: Math.min(plotAxis.from, plotAxis.to),
    max: Math.max(plotAxis.from, plotAxis.to),
    grid: { color: colours.graticule, drawTicks: false },
    border: { color: colours.frame },
    afterBuildTicks: (scale) => {
      scale.ticks = plotAxis.ticks.map((tick) => ({ value: tick.at, label: tick.text }));
      // The chart would write its own text for each value; the plot's stands.
      scale.generateTickLabels = () => {};
    },
  };
}

function dataset(
  series: PlotSeries,
  x: PlotAxis,
  colours: ChartColours,
): ChartDataset<'line', ChartPoint[]> {
  return {
    label: series.label,
    data: points(series, Math.abs(x.to - x.from) * 2e-4),
    borderColor: colours.series[series.colour],
    borderWidth: 1.5,
    borderDash: [...DASH_PX[series.dash]],
    borderCapStyle: series.dash === 'solid' ? 'round' : 'butt',
    borderJoinStyle: 'round',
    pointRadius: 0,
    pointHitRadius: 0,
    spanGaps: false,
    tension: 0,
  };
}

/** A value between two gaps is drawn as a dot: a line of no visible length with round ends. */
function points(series: PlotSeries, dotS: number): ChartPoint[] {
  const data: ChartPoint[] = [];
  series.y.forEach((y, index) => {
    const x = series.x[index];
    if (x === undefined) return;
    data.push({ x, y: y ?? Number.NaN });
    const alone = (series.y[index - 1] ?? null) === null && (series.y[index + 1] ?? null) === null;
    if (y !== null && alone) data.push({ x: x + dotS, y });
  });
  return data;
}
