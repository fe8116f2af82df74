/**
 * A picture of differences as the configuration of an interactive chart. Scales and ticks are the
 * picture's own: nothing is chosen here.
 */
import type { ChartConfiguration, ChartDataset, ScaleOptionsByType } from 'chart.js';
import type { PlotAxis } from '../../core/debrief/plot';
import { type DifferencePicture, pointWords } from '../navigation/difference-picture';
import type { ChartColours } from './chart-colours';

export type ScatterPoint = { x: number; y: number };
type ScatterConfiguration = ChartConfiguration<'scatter', ScatterPoint[]>;
type Trace = ChartDataset<'scatter', ScatterPoint[]>;

const FONT_PX = 12;
/** Half a text of the outermost ticks. */
const PAD_PX = { left: 0, right: 16, top: 8, bottom: 0 };
const POINT_PX = 1.7;
const EDGE_DASH_PX = [6, 3];
const ZERO_DASH_PX = [1, 4];

/**
 * @param picture points, bands and axes
 * @param colours the look as it is now
 * @returns configuration without plugins; the caller adds the one that shades the bands
 */
export function scatterConfig(
  picture: DifferencePicture,
  colours: ChartColours,
): ScatterConfiguration {
  return {
    type: 'scatter',
    data: { datasets: tracesOf(picture, colours) },
    options: {
      responsive: true,
      maintainAspectRatio: false,
      animation: false,
      normalized: true,
      parsing: false,
      layout: { autoPadding: false, padding: PAD_PX },
      interaction: { mode: 'nearest', axis: 'xy', intersect: true },
      scales: { x: axis(picture.x, colours), y: axis(picture.y, colours) },
      plugins: {
        tooltip: {
          // Lines of the bias have no points to stand on.
          filter: ({ datasetIndex }) => datasetIndex === 0,
          displayColors: false,
          backgroundColor: colours.sheet,
          borderColor: colours.inkSoft,
          borderWidth: 1,
          bodyColor: colours.ink,
          bodyFont: { family: colours.mono, size: FONT_PX },
          callbacks: {
            title: () => [],
            label: ({ dataIndex }) => [...pointWords(picture, dataIndex)],
          },
        },
      },
    },
  };
}

function axis(
  plotAxis: PlotAxis,
  colours: ChartColours,
): Pick<ScaleOptionsByType<'linear'>, 'type' | 'min' | 'max' | 'reverse' | 'afterBuildTicks'> &
  Readonly<{
    grid: { color: string; drawTicks: false };
    border: { color: string };
    title: { display: true; text: string; color: string; font: { family: string; size: number } };
    ticks: { color: string; font: { family: string; size: number }; padding: number };
  }> {
  return {
    type: 'linear',
    min: Math.min(plotAxis.from, plotAxis.to),
    max: Math.max(plotAxis.from, plotAxis.to),
    reverse: plotAxis.from > plotAxis.to,
    grid: { color: colours.graticule, drawTicks: false },
    border: { color: colours.frame },
    title: {
      display: true,
      text: `${plotAxis.label}, ${plotAxis.unit}`,
      color: colours.inkSoft,
      font: { family: colours.text, size: FONT_PX },
    },
    ticks: { color: colours.inkSoft, font: { family: colours.mono, size: FONT_PX }, padding: 6 },
    afterBuildTicks: (scale) => {
      scale.ticks = plotAxis.ticks.map((tick) => ({ value: tick.at, label: tick.text }));
      // The chart would write its own text for each value; the picture's stands.
      scale.generateTickLabels = () => {};
    },
  };
}

/** Points first: what has the lowest order is drawn last, so the bias lies over them. */
function tracesOf(picture: DifferencePicture, colours: ChartColours): Trace[] {
  const { rangeM, differenceM, bands, x } = picture;
  const bias = colours.series[2];
  const line: Pick<Trace, 'showLine' | 'pointRadius' | 'pointHitRadius' | 'spanGaps'> = {
    showLine: true,
    pointRadius: 0,
    pointHitRadius: 0,
    spanGaps: false,
  };
  const level = (of: (band: DifferencePicture['bands'][number]) => number): ScatterPoint[] =>
    bands.flatMap((band) => [
      { x: band.fromM, y: of(band) },
      { x: band.toM, y: of(band) },
      { x: band.toM, y: Number.NaN },
    ]);
  const edge = (label: string, sign: 1 | -1): Trace => ({
    ...line,
    label,
    data: level(({ biasM, halfM }) => biasM + sign * (halfM ?? Number.NaN)),
    borderColor: bias,
    borderWidth: 1.25,
    borderDash: EDGE_DASH_PX,
    order: 1,
  });
  return [
    {
      label: 'differences',
      data: rangeM.map((m, index) => ({ x: m, y: differenceM[index] ?? Number.NaN })),
      pointStyle: 'circle',
      pointRadius: POINT_PX,
      pointHitRadius: 4,
      pointHoverRadius: 4,
      pointBorderWidth: 0,
      pointBackgroundColor: colours.series[1],
      order: 3,
    },
    {
      ...line,
      label: 'bias by range',
      data: level(({ biasM }) => biasM),
      borderColor: bias,
      borderWidth: 3,
      borderCapStyle: 'butt',
      order: 0,
    },
    edge('bias, upper end of 95 %', 1),
    edge('bias, lower end of 95 %', -1),
    {
      ...line,
      label: 'zero',
      data: [
        { x: x.from, y: 0 },
        { x: x.to, y: 0 },
      ],
      borderColor: colours.ink,
      borderWidth: 1.5,
      borderDash: ZERO_DASH_PX,
      order: 2,
    },
  ];
}
