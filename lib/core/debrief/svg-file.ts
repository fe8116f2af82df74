/** A plot as an SVG file of its own: light colours on a sheet, whatever it is shown on. */
import type { Plot } from './plot';
import { svgText } from './svg-node';
import { element } from './svg-pen';
import { drawPlot, type SvgPlotOptions } from './svg-plot';

/** The light theme’s sheet. */
const SHEET = '#fdfcf8';

/** @param options as for a page; the colours are always plain ones */
export function svgFile(plots: readonly Plot[], options: Omit<SvgPlotOptions, 'colours'>): string {
  const drawn = drawPlot(plots, { ...options, colours: 'plain' });
  const sheet = element('rect', { width: '100%', height: '100%', fill: SHEET });
  const isName = ({ tag }: { tag: string }) => tag === 'title' || tag === 'desc';
  const names = drawn.children.filter(isName);
  const rest = drawn.children.filter((child) => !isName(child));
  return `${svgText({ ...drawn, children: [...names, sheet, ...rest] })}\n`;
}
