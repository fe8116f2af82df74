/** Words sought in logs, stretches and remarks of a session: hits in time order, for a list and the axis. */
import type { LaneBar, TimelineView } from './timeline';
import { logText } from './timeline-readout';
import type { TimelineSheet } from './timeline-state';

export type SearchHit = Readonly<{
  id: string;
  fromS: number;
  toS: number;
  kind: string;
  text: string;
  /** What opens beside the strips; null where nothing does. */
  sheet: TimelineSheet | null;
}>;

/**
 * Everything that holds each of the words, big and small letters alike; a part of a word counts.
 *
 * @param view with its sentences on the reader's clock
 * @returns in time order; none for a search without words
 */
export function searchHits(
  view: Pick<
    TimelineView,
    'log' | 'phases' | 'beyond' | 'faults' | 'feeds' | 'states' | 'zones' | 'remarks'
  >,
  sought: string,
): readonly SearchHit[] {
  const words = sought.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return [];
  const fits = ({ kind, text }: SearchHit, more = ''): boolean => {
    const all = `${kind} ${text} ${more}`.toLowerCase();
    return words.every((word) => all.includes(word));
  };
  const bars = (items: readonly LaneBar[], kind: string): readonly SearchHit[] =>
    items.map(({ id, fromS, toS, detail }) => {
      return { id, fromS, toS, kind, text: detail, sheet: null };
    });
  const log = view.log.map((mark): SearchHit => {
    const kind = mark.kind === 'event' ? 'event' : 'said';
    return { id: mark.id, fromS: mark.tS, toS: mark.tS, kind, text: logText(mark), sheet: null };
  });
  const remarks = view.remarks.filter((bar) =>
    fits(hitOf(bar), bar.kind === 'finding' ? `${bar.finding.seen} ${bar.finding.change}` : ''),
  );
  return [
    ...[
      ...log,
      ...bars(view.phases, 'phase'),
      ...bars(view.beyond, 'beyond limit'),
      ...bars(view.feeds, 'navigation'),
      ...view.states.flatMap((lane) => bars(lane.bars, 'state')),
      ...view.zones.flatMap((lane) => bars(lane.bars, 'zone')),
      ...bars(view.faults, 'data fault'),
    ].filter((hit) => fits(hit)),
    ...remarks.map(hitOf),
  ].sort((a, b) => a.fromS - b.fromS);
}

function hitOf({ id, fromS, toS, kind, detail }: TimelineView['remarks'][number]): SearchHit {
  return { id, fromS, toS, kind, text: detail, sheet: { kind, id } };
}
