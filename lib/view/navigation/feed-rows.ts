/** What fed the solution and what was not used of it, row by row with their figures. */
import type { Figure } from '../../core/figure';
import { feedFigures, unusedFigures } from '../../core/reconstruction/feed-figures';
import type { NavigationReport, UnusedStretch } from '../../core/reconstruction/navigation-report';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { type FigureView, figureView, figureViewOrNull, timelineHref } from '../figure-view';
import { kindWords } from './feed-bars';

export type FeedRow = Readonly<{
  key: string;
  name: string;
  kind: string;
  start: FigureView;
  length: FigureView;
  href: string;
}>;

export type UnusedRow = Readonly<{
  key: string;
  what: string;
  note: string;
  start: FigureView | null;
  length: FigureView | null;
  href: string;
}>;

/** One row a stretch of one state, in time order. */
export function feedRows(
  reconstruction: Reconstruction,
  report: NavigationReport,
  sessionId: string,
): readonly FeedRow[] {
  return feedFigures(reconstruction).flatMap(({ startS, lengthS }, index) => {
    const feed = report.feeds[index];
    if (feed === undefined) return [];
    const options = (what: string) => ({ sessionId, label: `${feed.name}, ${what}` });
    return [
      {
        key: `feed-${index}`,
        name: feed.name,
        kind: kindWords(feed.kind),
        start: figureView(startS, { ...options('from'), form: 'time' }),
        length: figureView(lengthS, { ...options('length'), form: 'duration' }),
        href: timelineHref(sessionId, feed.fromS, feed.toS),
      },
    ];
  });
}

/** A stretch of the solution that was missing or not used. */
export function unusedRow(
  stretch: UnusedStretch,
  key: string,
  reconstruction: Reconstruction,
  sessionId: string,
): UnusedRow {
  const { what, channel, note, fromS, toS } = stretch;
  const figures = unusedFigures(reconstruction, stretch);
  const name = channel === null ? what : `${channel}, ${what}`;
  const view = (figure: Figure | undefined, of: string, form: 'time' | 'duration') =>
    figureViewOrNull(figure ?? null, { sessionId, label: `${name}, ${of}`, form });
  return {
    key,
    what: name,
    note,
    start: view(figures?.startS, 'from', 'time'),
    length: view(figures?.lengthS, 'length', 'duration'),
    href: timelineHref(sessionId, fromS, toS),
  };
}
