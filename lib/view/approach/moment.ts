/** One moment of the approach, shared by its pictures: in the address, under the pointer, in words. */
import { formatNumber, formatSigned } from '../../core/units/number-text';
import { formatDuration, formatSessionTime } from '../format-time';
import type { Picture } from './picture';

/** A value over the parts of the flight, rounded for the way to the browser; null where not known. */
export type Reading = Readonly<{
  label: string;
  unit: string;
  form: 'number' | 'signed' | 'duration';
  decimals: number;
  values: readonly (number | null)[];
}>;

/** Parts are equal lengths of time from `fromS` on; a moment is the middle of one. */
export type MomentView = Readonly<{
  fromS: number;
  partS: number;
  parts: number;
  readings: readonly Reading[];
}>;

export function momentOf(view: MomentView, part: number): number {
  return view.fromS + (part + 0.5) * view.partS;
}

/** The part of an asked moment; null where none was asked or it lies outside the approach. */
export function partOf(view: MomentView, atS: number | null): number | null {
  if (atS === null || view.parts === 0) return null;
  const part = Math.floor((atS - view.fromS) / view.partS);
  return part >= -1 && part <= view.parts ? Math.min(Math.max(part, 0), view.parts - 1) : null;
}

/** `at` of an address, s; null where it is absent or no number. */
export function readMoment(asked: string | readonly string[] | undefined): number | null {
  const text = typeof asked === 'string' ? asked : (asked?.[0] ?? '');
  const value = text.trim() === '' ? Number.NaN : Number(text);
  return Number.isFinite(value) ? value : null;
}

/** The values at a part as words: label and text, `not known` where there is none. */
export function readingsAt(
  view: MomentView,
  part: number,
): readonly Readonly<{ label: string; text: string }>[] {
  return view.readings.map(({ label, unit, form, decimals, values }) => {
    const value = values[part] ?? null;
    if (value === null) return { label, text: 'not known' };
    if (form === 'duration') return { label, text: formatDuration(value, 0) };
    const write = form === 'signed' ? formatSigned : formatNumber;
    return { label, text: `${write(value, decimals)} ${unit}` };
  });
}

/** The moment in one line, for a reader who hears it. */
export function spokenMoment(view: MomentView, part: number): string {
  const words = readingsAt(view, part).map(({ label, text }) => `${label} ${text}`);
  return [formatSessionTime(momentOf(view, part)), ...words].join(', ');
}

/**
 * The part of the flight nearest to a point of a picture; of places as near, the one closest in time
 * to the moment before.
 *
 * @returns null where the picture shows no place
 */
export function partNear(
  { places }: Pick<Picture, 'places'>,
  point: Readonly<{ x: number; y: number }>,
  before: number | null,
): number | null {
  let best: number | null = null;
  let bestPx = Number.POSITIVE_INFINITY;
  places.forEach((place, part) => {
    if (place === null) return;
    const awayPx = Math.hypot(place[0] - point.x, place[1] - point.y);
    const isNearer =
      awayPx < bestPx - 0.5 ||
      (awayPx < bestPx + 0.5 &&
        before !== null &&
        best !== null &&
        Math.abs(part - before) < Math.abs(best - before));
    if (!isNearer) return;
    best = part;
    bestPx = awayPx;
  });
  return best;
}

/** Values with as many decimals as are shown; null where there is none. */
export function roundedValues(values: Float64Array, decimals: number): readonly (number | null)[] {
  const scale = 10 ** decimals;
  return Array.from(values, (value) =>
    Number.isFinite(value) ? Math.round(value * scale) / scale : null,
  );
}
