/** Which strips and columns a timeline draws, and what it asks the store for first. */
import { type EnvelopeQuestion, FIRST_PIXELS, openQuestions } from './charts/envelope-question';
import { stripAtPlace } from './strip-places';
import type { TimelineView } from './timeline';
import { quantityStripOf, type Strip, type StripCatalogue } from './timeline-strips';
import type { TimelineAddress } from './timeline-url';

export type DrawnStrips = Readonly<{
  /** The strips that are put on, in their order. */
  shown: readonly Strip[];
  range: Strip | null;
  /** Columns that are drawn, each once. */
  keys: readonly string[];
  /** Those of them on the strips that were measured or estimated: what has a rate. */
  measured: readonly string[];
}>;

/** @param ids places of strips as an address has them; what the session lacks is left out */
export function drawnStrips(catalogue: StripCatalogue, ids: readonly string[]): DrawnStrips {
  const shown = ids.flatMap((id) => stripAtPlace(catalogue, id) ?? []);
  const range = quantityStripOf(catalogue, 'range');
  const first = range?.series[0]?.key;
  const keys = shown.flatMap((strip) =>
    strip.series.flatMap((series) => (series.points === undefined ? series.key : [])),
  );
  const measured = shown.flatMap((strip) =>
    strip.series.flatMap((series) => (series.role === 'measured' ? series.key : [])),
  );
  return {
    shown,
    range,
    keys: [...new Set(first === undefined ? keys : [first, ...keys])],
    measured: [...new Set(measured)],
  };
}

/** What the page at an address will ask for as soon as it runs. */
export function firstQuestions(
  view: TimelineView,
  address: TimelineAddress,
): readonly EnvelopeQuestion[] {
  const { session, catalogue } = view;
  const { keys } = drawnStrips(catalogue, address.strips);
  return openQuestions({ session, window: address.window, keys, pixels: FIRST_PIXELS }, [], []);
}
