/** Instants worth a look, for "next" and "previous". */
import type { LaneBar, TimelineView } from './timeline';
import type { TimelineStop } from './timeline-keys';
import { logText } from './timeline-readout';

/** The cursor stands on the edge of a stretch after a step to it, give or take rounding. */
const EDGE_S = 1e-6;

type Stop = Readonly<{ tS: number; text: string }>;

function stops(view: TimelineView, stop: TimelineStop): readonly Stop[] {
  if (stop === 'event') return view.log.map((mark) => ({ tS: mark.tS, text: logText(mark) }));
  const bars = { exceedance: view.beyond, finding: view.remarks, phase: view.phases }[stop];
  return bars.map((bar) => ({ tS: bar.fromS, text: bar.detail }));
}

/** The shortest bar drawn at an instant, phases last; null where none is. */
export function barAt(
  view: Readonly<Record<'phases' | 'beyond' | 'faults' | 'remarks', readonly LaneBar[]>>,
  tS: number,
): LaneBar | null {
  const at = (bars: readonly LaneBar[]): readonly LaneBar[] =>
    bars
      .filter((bar) => bar.fromS - EDGE_S <= tS && tS <= bar.toS + EDGE_S && bar.toS > bar.fromS)
      .sort((a, b) => a.toS - a.fromS - (b.toS - b.fromS));
  const [first] = at([...view.beyond, ...view.faults, ...view.remarks]);
  return first ?? at(view.phases)[0] ?? null;
}

/** Session times of all stops of a kind; a stretch counts at its start. */
export function stopsOf(view: TimelineView, stop: TimelineStop): readonly number[] {
  return stops(view, stop).map((each) => each.tS);
}

/** What there is at a stop, in words. */
export function textAtStop(view: TimelineView, stop: TimelineStop, tS: number): string {
  return stops(view, stop)
    .filter((each) => each.tS === tS)
    .map((each) => each.text)
    .join('; ');
}
