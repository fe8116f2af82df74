/** What lies behind and across every strip. */
import type { PlotBand, PlotMark } from '../core/debrief/plot';
import type { TimeWindow } from './charts/time-window';

/** Behind every strip: stretches beyond limits washed, gaps of the telemetry hatched. */
export function stripBands(
  view: Readonly<{
    beyond: readonly (TimeWindow & Readonly<{ rule: 'limit' | 'events' }>)[];
    gaps: readonly TimeWindow[];
  }>,
): readonly PlotBand[] {
  const band = (stretch: TimeWindow, tone: PlotBand['tone']): PlotBand => {
    return { along: 'x', from: stretch.fromS, to: stretch.toS, tone, label: '' };
  };
  return [
    ...view.gaps.map((gap) => band(gap, 'gap')),
    // Events broke no limit that is drawn here.
    ...view.beyond.filter(({ rule }) => rule === 'limit').map((bar) => band(bar, 'beyond')),
  ];
}

/** Across every strip: contact. */
export function stripMarks(view: Readonly<{ contactS: number | null }>): readonly PlotMark[] {
  return view.contactS === null ? [] : [{ at: view.contactS, tone: 'contact', label: 'contact' }];
}
