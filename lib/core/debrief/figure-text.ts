/** A figure as text: unit for people, digits by its uncertainty. */
import type { Figure } from '../figure';
import {
  durationText,
  minutesText,
  sessionTimeText,
  signedMinutesText,
} from '../time/session-time-text';
import { countWord, formatNumber, formatSigned } from '../units/number-text';
import { type ShownOptions, shownFigure } from '../units/shown-figure';

/**
 * How a figure is written: a plain number, with a plus, a clock reading, a length of time in
 * minutes (`11:17.9`), that with a plus, the same in words (`11 min 17.9 s`), or a count as a word.
 */
export const FIGURE_FORMS = [
  'number',
  'signed',
  'time',
  'duration',
  'signed-duration',
  'spoken',
  'word',
] as const;
export type FigureForm = (typeof FIGURE_FORMS)[number];

/** Forms that read as a clock or a length of time, and so need no unit. */
const TIME_FORMS: readonly FigureForm[] = ['time', 'duration', 'signed-duration', 'spoken'];

export type FigureTextOptions = ShownOptions &
  Readonly<{ form?: FigureForm; uncertainty?: 'with' | 'without' }>;

function writeNumber(value: number, decimals: number, form: FigureForm): string {
  switch (form) {
    case 'time':
      return sessionTimeText(value, decimals);
    case 'duration':
      return minutesText(value, decimals);
    case 'signed-duration':
      return signedMinutesText(value, decimals);
    case 'spoken':
      return durationText(value, decimals).replaceAll(' ', '\u00a0');
    case 'word':
      return Number.isInteger(value) ? countWord(value) : formatNumber(value, decimals);
    case 'signed':
      return formatSigned(value, decimals);
    case 'number':
      return formatNumber(value, decimals);
  }
}

/** Stands behind a number that rests on what a person set. */
export const BY_HAND_MARK = '\u2020';

/**
 * Writes a figure for people: `0.0741 \u00b1 0.0009 m/s`, `00:13:16.3 \u00b1 0.4 s`.
 *
 * @param figure any figure; radians are shown in degrees
 * @param options how
 * @returns one line with no-break spaces, marked where it rests on what a person set; `not known` where the figure has no value
 */
export function figureText(figure: Figure, options: FigureTextOptions = {}): string {
  const { form = 'number', uncertainty = 'with' } = options;
  const shown = shownFigure(figure, options);
  if (shown === null) return 'not known';
  const isTime = TIME_FORMS.includes(form);
  const parts = [writeNumber(shown.value, shown.decimals, form)];
  const spread = uncertainty === 'with' ? shown.halfWidth : null;
  if (spread !== null) parts.push(`\u00b1\u00a0${spread}`);
  // A clock reading carries its own unit; the half-width beside it is in seconds.
  if (!isTime || spread !== null) parts.push(shown.unit);
  const mark = figure.evidence.people === undefined ? '' : BY_HAND_MARK;
  return `${parts.filter((part) => part !== '').join('\u00a0')}${mark}`;
}
