/** What the strips show as a picture of its own: plain SVG, right in any program, light as paper. */
import type { PlotBand, PlotMark, PlotTick } from '../core/debrief/plot';
import { svgPlot } from '../core/debrief/svg-plot';
import type { AxisWarp } from './charts/axis-warp';
import type { EnvelopeAnswer } from './charts/envelope-wire';
import { stripPlot } from './charts/strip-plot';
import type { TimeWindow } from './charts/time-window';
import type { Strip } from './timeline-strips';

export type PictureInput = Readonly<{
  title: string;
  /** From when to when, on the clock of the axis. */
  stretch: string;
  strips: readonly Strip[];
  window: TimeWindow;
  answers: readonly EnvelopeAnswer[];
  bands: readonly PlotBand[];
  marks: readonly PlotMark[];
  axis: Readonly<{ ticks: readonly PlotTick[]; warp: AxisWarp | null; name: string }>;
}>;

export type TimelinePicture = Readonly<{ svg: string; widthPx: number; heightPx: number }>;

const WIDTH_PX = 1040;

/** @returns null where no strip has a value in the window: there is nothing to draw */
export function timelinePicture(input: PictureInput): TimelinePicture | null {
  const { title, stretch, window, axis } = input;
  const drawn = input.strips
    .map((strip) => stripPlot({ ...input, strip, timeTickCount: axis.ticks.length }))
    .filter((strip) => strip.hasValues)
    .map(({ plot }) => ({ ...plot, x: { ...plot.x, label: axis.name } }));
  if (drawn.length === 0) return null;
  const svg = svgPlot(drawn, {
    idPrefix: 'strips',
    title: `${title}, ${stretch}`,
    description: `Traces over ${axis.name}, session time ${window.fromS.toFixed(1)} s to ${window.toS.toFixed(1)} s.`,
    widthPx: WIDTH_PX,
    colours: 'plain',
  });
  const size = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg);
  return { svg, widthPx: Number(size?.[1] ?? WIDTH_PX), heightPx: Number(size?.[2] ?? WIDTH_PX) };
}
