/** Strips as they are put on: one of the catalogue, or several of one unit that share a strip. */
import { COLOUR_DASH, type SeriesColour } from '../core/debrief/plot';
import type { Strip, StripCatalogue, StripSeries } from './timeline-strips';

/** What a strip can be as high as, px; the usual one stands in no address. */
export const STRIP_HEIGHTS = { usual: 128, least: 64, most: 512, step: 32 } as const;

/** Told apart by colour and dash; more lines than these cannot be. */
const MOST_MEASURED = 5;
const COLOURS: readonly SeriesColour[] = [1, 3, 4, 5, 2];

/** The strips that share a place; a strip of the catalogue is itself, whatever its name holds. */
export function partsOfPlace(id: string, known: ReadonlySet<string>): readonly string[] {
  if (known.has(id)) return [id];
  return id.split('+').map((part) => part.replaceAll('%2B', '+').replaceAll('%25', '%'));
}

export function placeOfParts(parts: readonly string[]): string {
  if (parts.length === 1) return parts[0] ?? '';
  return parts.map((part) => part.replaceAll('%', '%25').replaceAll('+', '%2B')).join('+');
}

/** True where every part of a place is a strip that this session offers. */
export function isKnownPlace(id: string, known: ReadonlySet<string>): boolean {
  return partsOfPlace(id, known).every((part) => known.has(part));
}

/** Whether two strips can share a place: the same unit, and lines enough to tell them apart. */
export function canShare(a: Strip, b: Strip): boolean {
  const measured = [...a.series, ...b.series].filter((series) => series.role === 'measured');
  const isNew = a.series.every((one) => b.series.every((other) => one.key !== other.key));
  return a.unit === b.unit && a.fromSi === b.fromSi && measured.length <= MOST_MEASURED && isNew;
}

/** The strip at a place; null where the session lacks it. Parts that do not fit are left out. */
export function stripAtPlace(catalogue: StripCatalogue, id: string): Strip | null {
  const known = new Set(catalogue.strips.map((strip) => strip.id));
  const parts = partsOfPlace(id, known).flatMap(
    (part) => catalogue.strips.find((strip) => strip.id === part) ?? [],
  );
  const [first, ...others] = parts;
  if (first === undefined) return null;
  const shared = others.reduce(
    (strip, next) => (canShare(strip, next) ? together(strip, next) : strip),
    first,
  );
  return { ...shared, id };
}

function together(strip: Strip, next: Strip): Strip {
  const taken = strip.series.filter((series) => series.role === 'measured').length;
  let index = taken;
  const named = (of: Strip, series: StripSeries): string => {
    const alone = of.series.filter((each) => each.role === 'measured').length === 1;
    return series.role === 'measured' && alone ? of.label : `${of.label}, ${series.label}`;
  };
  const isShared = strip.id.includes(' ');
  const added = next.series.map((series): StripSeries => {
    const label = named(next, series);
    if (series.role !== 'measured') return { ...series, label };
    const colour = COLOURS[index] ?? 1;
    index += 1;
    return { ...series, label, colour, dash: COLOUR_DASH[colour] };
  });
  return {
    ...strip,
    id: `${strip.id} ${next.id}`,
    label: `${strip.label} and ${next.label}`,
    series: [
      ...strip.series.map((series) =>
        isShared ? series : { ...series, label: named(strip, series) },
      ),
      ...added,
    ],
  };
}
