/** The view of the timeline on the axis that was chosen: sentences on its clock, lanes in its places. */
import type { AxisWarp } from './charts/axis-warp';
import type { TimelineView } from './timeline';
import type { TimelineClock } from './timeline-clock';
import { tellTimes } from './told-times';

type Told = Readonly<{ detail: string }>;
type Placed = Readonly<{ fromS: number; toS: number }>;

/** Every sentence of the lanes with its times as the clock writes them. */
export function toldView(view: TimelineView, clock: TimelineClock): TimelineView {
  const tell = <Bar extends Told>(bars: readonly Bar[]): readonly Bar[] =>
    bars.map((bar) => ({ ...bar, detail: tellTimes(bar.detail, clock) }));
  return {
    ...view,
    phases: tell(view.phases),
    plan: tell(view.plan),
    beyond: tell(view.beyond),
    faults: tell(view.faults),
    feeds: tell(view.feeds),
    states: view.states.map((lane) => ({ ...lane, bars: tell(lane.bars) })),
    zones: view.zones.map((lane) => ({ ...lane, bars: tell(lane.bars) })),
    remarks: tell(view.remarks),
  };
}

/** The lanes with every instant where a warped axis draws it. */
export function placedView(view: TimelineView, warp: AxisWarp | null): TimelineView {
  if (warp === null) return view;
  const place = <Bar extends Placed>(bars: readonly Bar[]): readonly Bar[] =>
    bars.map((bar) => ({ ...bar, fromS: warp.place(bar.fromS), toS: warp.place(bar.toS) }));
  return {
    ...view,
    phases: place(view.phases),
    plan: place(view.plan),
    beyond: place(view.beyond),
    faults: place(view.faults),
    feeds: place(view.feeds),
    states: view.states.map((lane) => ({ ...lane, bars: place(lane.bars) })),
    zones: view.zones.map((lane) => ({ ...lane, bars: place(lane.bars) })),
    remarks: place(view.remarks),
    log: view.log.map((mark) => ({ ...mark, tS: warp.place(mark.tS) })),
  };
}
