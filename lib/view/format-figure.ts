/** A figure as text: value, half-width and unit with digits that belong together. */
import { type Figure, halfWidth95 } from '../core/figure';
import { decimalsFor, formatNumber, formatSigned } from './format-number';
import { formatDuration, formatSessionTime, formatSignedDuration } from './format-time';
import { readerUnit } from './reader-unit';

/** `time` is session time, `duration` a length of time; `signed` ones carry a plus. */
export type FigureForm = 'number' | 'signed' | 'time' | 'duration' | 'signed-duration';

export type FigureFormat = Readonly<{
  form?: FigureForm;
  /** The unit the author of a rule wrote; the reader's usual unit otherwise. */
  unit?: string | null;
}>;

/** `uncertainty` is the half-width without its sign, null where not known or exactly nothing. */
export type FigureText = Readonly<{
  value: string;
  uncertainty: string | null;
  unit: string;
  /** All of it on one line. */
  text: string;
}>;

const WRITE: Readonly<Record<FigureForm, (value: number, decimals: number) => string>> = {
  number: formatNumber,
  signed: formatSigned,
  time: formatSessionTime,
  duration: formatDuration,
  'signed-duration': formatSignedDuration,
};

/**
 * Writes a figure in the reader's units.
 *
 * @returns `value` is `not known` where the figure has none; its reason stands in the evidence
 */
export function formatFigure(figure: Figure, format: FigureFormat = {}): FigureText {
  const form = format.form ?? 'number';
  const shown = readerUnit(figure.unit, format.unit);
  if (figure.value === null || !Number.isFinite(figure.value)) {
    return { value: 'not known', uncertainty: null, unit: '', text: 'not known' };
  }
  const half = halfWidth95(figure);
  const shownHalf = half === null ? null : half * shown.fromSi;
  const isClock = form === 'time' || form === 'duration' || form === 'signed-duration';
  const decimals = Math.min(shown.most, decimalsFor(shownHalf, shown.decimals));
  const value = WRITE[form](figure.value * shown.fromSi, decimals);
  const uncertainty = shownHalf === null || shownHalf === 0 ? null : halfText(shownHalf, decimals);
  // A clock reading carries its own unit; the half-width beside it is in seconds.
  const unit = isClock && uncertainty === null ? '' : shown.unit;
  const text = [value, uncertainty === null ? '' : `± ${uncertainty}`, unit]
    .filter((part) => part !== '')
    .join('\u00a0');
  return { value, uncertainty, unit, text };
}

/** Where digits were cut short the half-width is rounded up: never narrower than it is. */
function halfText(half: number, decimals: number): string {
  if (decimalsFor(half, decimals) <= decimals) return half.toFixed(decimals);
  const scale = 10 ** decimals;
  return (Math.ceil(half * scale) / scale).toFixed(decimals);
}
