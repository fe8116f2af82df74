'use client';

import { useMemo } from 'react';
import type { PlotBand, PlotMark } from '@/lib/core/debrief/plot';
import { stripBands, stripMarks } from '@/lib/view/strip-bands';
import type { TimelineView } from '@/lib/view/timeline';
import type { TimelineState } from '@/lib/view/timeline-state';
import { type DrawnStrips, drawnStrips } from '@/lib/view/timeline-traces';
import { type Envelopes, useEnvelopes } from './use-envelopes';

export type Traces = DrawnStrips &
  Readonly<{
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
  const { catalogue, session } = view;
  const { window } = state;
  const strips = useMemo(() => drawnStrips(catalogue, state.strips), [catalogue, state.strips]);
  const { keys } = strips;
  const asked = { sessionId: view.sessionId, session, window, keys, pixels: widthPx };
  const envelopes = useEnvelopes(asked);
  const bands = useMemo(() => stripBands(view), [view]);
  const marks = useMemo(() => stripMarks(view), [view]);
  return { ...strips, envelopes, bands, marks };
}
