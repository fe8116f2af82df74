/** Colours and faces of a chart: the look's custom properties, read once and again on a change. */
import type { PlotTone, SeriesColour } from '../../core/debrief/plot';

export type ChartColours = Readonly<{
  series: Readonly<Record<SeriesColour, string>>;
  tones: Readonly<Record<PlotTone, string>>;
  ink: string;
  inkSoft: string;
  graticule: string;
  frame: string;
  sheet: string;
  text: string;
  mono: string;
}>;

/**
 * @param property reads one custom property, such as `--ink`; empty where it is not defined
 */
export function chartColours(property: (name: string) => string): ChartColours {
  const read = (name: string): string => property(name).trim() || 'gray';
  return {
    series: {
      1: read('--series-1'),
      2: read('--series-2'),
      3: read('--series-3'),
      4: read('--series-4'),
      5: read('--series-5'),
    },
    tones: {
      hold: read('--phase-hold'),
      closing: read('--phase-closing'),
      opening: read('--phase-opening'),
      crossing: read('--phase-crossing'),
      beyond: read('--beyond'),
      gap: read('--ink-faint'),
      finding: read('--accent'),
      question: read('--accent'),
      event: read('--ink-soft'),
      contact: read('--inside'),
    },
    ink: read('--ink'),
    inkSoft: read('--ink-soft'),
    graticule: read('--graticule'),
    frame: read('--rule'),
    sheet: read('--sheet'),
    text: property('--font-text').trim() || 'sans-serif',
    mono: property('--font-mono').trim() || 'monospace',
  };
}
