/** A figure with its evidence, ready to be shown and opened. */
import type { Figure } from '../core/figure';
import { decimalsFor, formatCount, formatNumber } from '../core/units/number-text';
import { readerUnit } from '../core/units/reader-unit';
import { type FigureFormat, formatFigure } from './format-figure';
import { formatStretch } from './format-time';

export type EvidenceSourceView = Readonly<{ file: string; sha256: string; shortHash: string }>;

export type FigureView = Readonly<{
  label: string;
  value: string;
  uncertainty: string | null;
  unit: string;
  text: string;
  /** Both parts of the half-width in words; what is not known is said so. */
  parts: readonly Readonly<{ label: string; text: string }>[];
  method: string;
  reason: string | null;
  sources: readonly EvidenceSourceView[];
  channels: readonly string[];
  /** Which simulator runs are behind it; null for none. */
  runs: string | null;
  /** What people set that it rests on, a sentence each; absent where nobody did. */
  people?: readonly string[];
  stretch: Readonly<{ text: string; href: string }> | null;
  /** Versions that it was computed with, where a document states them with it. */
  basis?: readonly Readonly<{ term: string; text: string }>[];
}>;

export type FigureViewOptions = FigureFormat & Readonly<{ sessionId: string; label: string }>;

/** Seconds shown on either side of an instant when the timeline opens there. */
const ROOM_S = 5;

/**
 * Address of the timeline at a stretch: selected, with a little room on both sides.
 *
 * @param fromS session time, s
 * @param toS session time, s, at or after `fromS`
 */
export function timelineHref(sessionId: string, fromS: number, toS: number): string {
  const roomS = Math.max(ROOM_S, (toS - fromS) * 0.1);
  const from = formatPlain(fromS - roomS);
  const to = formatPlain(toS + roomS);
  return `/sessions/${encodeURIComponent(sessionId)}/timeline?from=${from}&to=${to}&sel=${formatPlain(fromS)}_${formatPlain(toS)}`;
}

function formatPlain(seconds: number): string {
  return String(Math.round(seconds * 1000) / 1000);
}

/** The first eight digits of a hash: enough to compare by eye, the whole one is beside it. */
export function shortHash(sha256: string): string {
  return sha256.slice(0, 8);
}

/** A figure as it is shown, and what opens behind it. */
export function figureView(figure: Figure, options: FigureViewOptions): FigureView {
  const { sources, channels, fromS, toS, people } = figure.evidence;
  return {
    label: options.label,
    ...formatFigure(figure, options),
    parts: uncertaintyParts(figure, options.unit),
    method: figure.method,
    reason: figure.reason ?? null,
    sources: sources.map(({ file, sha256 }) => ({ file, sha256, shortHash: shortHash(sha256) })),
    channels,
    runs: figure.evidence.runs ?? null,
    ...(people === undefined ? {} : { people }),
    stretch:
      fromS === null || toS === null
        ? null
        : {
            text: formatStretch(fromS, toS),
            href: timelineHref(options.sessionId, fromS, toS),
          },
  };
}

/** A count: whole, without a unit. */
export function countView(
  figure: Figure,
  options: Readonly<{ sessionId: string; label: string }>,
): FigureView {
  const text = figure.value === null ? 'not known' : formatCount(figure.value);
  return { ...figureView(figure, options), value: text, unit: '', text };
}

/** As `figureView`, for a figure that may be absent. */
export function figureViewOrNull(
  figure: Figure | null,
  options: FigureViewOptions,
): FigureView | null {
  return figure === null ? null : figureView(figure, options);
}

function uncertaintyParts(figure: Figure, written?: string | null): FigureView['parts'] {
  const shown = readerUnit(figure.unit, written);
  const part = (label: string, size: number | null | undefined) => {
    if (size === null || size === undefined) return { label, text: 'not known' };
    if (size === 0) return { label, text: 'none' };
    const inUnit = size * shown.fromSi;
    const decimals = decimalsFor(inUnit, shown.decimals);
    return { label, text: `± ${formatNumber(inUnit, decimals)} ${shown.unit}`.trim() };
  };
  const { people, sources } = figure.evidence;
  // Set by a person: no data stand behind the number itself.
  const isSaid = people !== undefined && sources.length === 0;
  return [
    part('from scatter', figure.uncertainty?.random),
    part(isSaid ? 'stated by a person' : 'stated by the source', figure.uncertainty?.systematic),
  ];
}
