/** A figure as text: value, half-width and unit with digits that belong together. */
import type { Figure } from '../core/figure';
import { formatNumber, formatSigned } from '../core/units/number-text';
import { shownFigure } from '../core/units/shown-figure';
import {
  formatDuration,
  formatSessionTime,
  formatSignedDuration,
  spokenDuration,
} from './format-time';

/**
 * `time` is session time, `duration` a length of time in minutes for a table, `spoken` the same for
 * a sentence; `signed` ones carry a plus.
 */
export type FigureForm = 'number' | 'signed' | 'time' | 'duration' | 'signed-duration' | 'spoken';

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
  spoken: (value, decimals) => spokenDuration(value, decimals).replaceAll(' ', '\u00a0'),
};

/**
 * Writes a figure in the reader's units.
 *
 * @returns `value` is `not known` where the figure has none; its reason stands in the evidence
 */
export function formatFigure(figure: Figure, format: FigureFormat = {}): FigureText {
  const form = format.form ?? 'number';
  const shown = shownFigure(figure, { unit: format.unit ?? null });
  if (shown === null) {
    return { value: 'not known', uncertainty: null, unit: '', text: 'not known' };
  }
  const isClock = form !== 'number' && form !== 'signed';
  const value = WRITE[form](shown.value, shown.decimals);
  const uncertainty = shown.halfWidth;
  // A clock reading carries its own unit; the half-width beside it is in seconds.
  const unit = isClock && uncertainty === null ? '' : shown.unit;
  const text = [value, uncertainty === null ? '' : `±\u00a0${uncertainty}`, unit]
    .filter((part) => part !== '')
    .join('\u00a0');
  return { value, uncertainty, unit, text };
}
