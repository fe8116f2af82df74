'use client';

import { useMemo } from 'react';
import type { PlotBand, PlotMark } from '@/lib/core/debrief/plot';
import { stripAtPlace } from '@/lib/view/strip-places';
import type { TimelineView } from '@/lib/view/timeline';
import type { TimelineState } from '@/lib/view/timeline-state';
import { quantityStripOf, type Strip, stripBands, stripMarks } from '@/lib/view/timeline-strips';
import { type Envelopes, useEnvelopes } from './use-envelopes';

export type Traces = Readonly<{
  /** The strips that are put on, in their order. */
  shown: readonly Strip[];
  range: Strip | null;
  /** Columns that are drawn, each once. */
  keys: readonly string[];
  envelopes: Envelopes;
  bands: readonly PlotBand[];
  marks: readonly PlotMark[];
}>;

/** What the strips draw: which of them, from which columns, on which background. */
export function useTraces(
  view: TimelineView,
  state: TimelineState,
  widthPx: number | null,
): Traces {
  const { catalogue } = view;
  const shown = useMemo(
    () => state.strips.flatMap((id) => stripAtPlace(catalogue, id) ?? []),
    [state.strips, catalogue],
  );
  const range = quantityStripOf(catalogue, 'range');
  const keys = useMemo(() => columnsOf(range, shown), [range, shown]);
  const envelopes = useEnvelopes({
    sessionId: view.sessionId,
    session: view.session,
    window: state.window,
    keys,
    pixels: widthPx,
  });
  const bands = useMemo(() => stripBands(view), [view]);
  const marks = useMemo(() => stripMarks(view), [view]);
  return { shown, range, keys, envelopes, bands, marks };
}

function columnsOf(range: Strip | null, shown: readonly Strip[]): readonly string[] {
  const first = range?.series[0]?.key;
  const keys = shown.flatMap((strip) =>
    strip.series.flatMap((series) => (series.points === undefined ? series.key : [])),
  );
  return [...new Set(first === undefined ? keys : [first, ...keys])];
}
