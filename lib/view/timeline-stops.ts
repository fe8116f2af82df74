/** Instants worth a look, for "next" and "previous". */
import type { TimelineView } from './timeline';
import type { TimelineStop } from './timeline-keys';
import { logText } from './timeline-readout';

type Stop = Readonly<{ tS: number; text: string }>;

function stops(view: TimelineView, stop: TimelineStop): readonly Stop[] {
  if (stop === 'event') return view.log.map((mark) => ({ tS: mark.tS, text: logText(mark) }));
  const bars = { exceedance: view.beyond, finding: view.remarks, phase: view.phases }[stop];
  return bars.map((bar) => ({ tS: bar.fromS, text: bar.detail }));
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
