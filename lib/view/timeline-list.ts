/** What the lanes draw in a window, as a list in time order: the same in words. */
import type { TimeWindow } from './charts/time-window';
import type { LaneBar, TimelineView } from './timeline';
import { logText } from './timeline-readout';
import type { TimelineSheet } from './timeline-state';

export type ListEntry = Readonly<{
  id: string;
  fromS: number;
  toS: number;
  kind: string;
  text: string;
  /** What opens beside the strips; null where nothing does. */
  sheet: TimelineSheet | null;
}>;

const MOST_ENTRIES = 200;

/** @returns at most 200 entries, and how many more there are */
export function windowEntries(
  view: TimelineView,
  window: TimeWindow,
): Readonly<{ entries: readonly ListEntry[]; more: number }> {
  const bars = (items: readonly LaneBar[], kind: string): readonly ListEntry[] =>
    items.map((bar) => ({
      id: bar.id,
      fromS: bar.fromS,
      toS: bar.toS,
      kind,
      text: bar.detail,
      sheet: null,
    }));
  const all: readonly ListEntry[] = [
    ...bars(view.phases, 'phase'),
    ...view.log.map((mark) => ({
      id: mark.id,
      fromS: mark.tS,
      toS: mark.tS,
      kind: mark.kind === 'event' ? 'event' : 'said',
      text: logText(mark),
      sheet: null,
    })),
    ...bars(view.beyond, 'beyond limit'),
    ...bars(view.feeds, 'navigation'),
    ...view.states.flatMap((lane) => bars(lane.bars, 'state')),
    ...view.zones.flatMap((lane) => bars(lane.bars, 'zone')),
    ...bars(view.faults, 'data fault'),
    ...view.remarks.map((bar) => ({
      id: bar.id,
      fromS: bar.fromS,
      toS: bar.toS,
      kind: bar.kind,
      text: bar.detail,
      sheet: { kind: bar.kind, id: bar.id },
    })),
  ];
  const inside = all
    .filter((entry) => entry.toS >= window.fromS && entry.fromS <= window.toS)
    .sort((a, b) => a.fromS - b.fromS);
  return {
    entries: inside.slice(0, MOST_ENTRIES),
    more: Math.max(0, inside.length - MOST_ENTRIES),
  };
}
