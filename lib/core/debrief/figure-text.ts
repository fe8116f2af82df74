/** A figure as text: unit for people, digits by its uncertainty. */
import { type Figure, halfWidth95 } from '../figure';
import { valueInUnit } from '../reconstruction/display-unit';
import { tickText } from './plot-axis';
import { durationText, minutesText, sessionTimeText } from './session-time-text';

/** Units that people read in place of the core's own. */
const SHOWN_UNIT: Readonly<Record<string, string>> = {
  rad: 'deg',
  'rad/s': 'deg/s',
  '1': '',
  '1e-6': 'ppm',
};

/** Decimals where no uncertainty is known, by unit; common practice, no source. */
const PLAIN_DECIMALS: Readonly<Record<string, number>> = {
  s: 1,
  m: 2,
  'm/s': 3,
  deg: 2,
  'deg/s': 3,
  'cm/s': 1,
  cm: 1,
  mm: 0,
  kg: 2,
  ppm: 0,
};

/** Decimals beyond which a reader is not helped, however small the uncertainty is. */
const MOST_DECIMALS: Readonly<Record<string, number>> = {
  s: 2,
  m: 3,
  'm/s': 5,
  deg: 4,
  'deg/s': 5,
  kg: 3,
  ppm: 2,
};

const WORDS = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ');

/**
 * How a figure is written: a plain number, with a plus, a clock reading, a length of time in
 * minutes (`11:17.9`), the same in words (`11 min 17.9 s`), or a count as a word.
 */
export const FIGURE_FORMS = ['number', 'signed', 'time', 'duration', 'spoken', 'word'] as const;
export type FigureForm = (typeof FIGURE_FORMS)[number];

export type FigureTextOptions = Readonly<{
  form?: FigureForm;
  /** Unit to show it in; the reader's usual one otherwise. */
  unit?: string | null;
  /** Decimals in place of those by uncertainty. */
  digits?: number | null;
  uncertainty?: 'with' | 'without';
}>;

/**
 * Decimals that an uncertainty leaves meaningful: one digit of the half-width, two where it starts
 * with 1, because rounding 0.14 to 0.1 would lose a third of it.
 *
 * @param halfWidth half-width in the unit shown, positive
 * @returns decimals to show, 0 to 9
 *
 * Source: common practice, no source.
 */
export function decimalsForUncertainty(halfWidth: number): number {
  const [digit = '1', exponent = '0'] = halfWidth.toExponential(0).split('e');
  return Math.min(9, Math.max(0, (digit === '1' ? 2 : 1) - 1 - Number(exponent)));
}

function writeNumber(value: number, decimals: number, form: FigureForm): string {
  switch (form) {
    case 'time':
      return sessionTimeText(value, decimals);
    case 'duration':
      return minutesText(value, decimals);
    case 'spoken':
      return durationText(value, decimals);
    case 'word':
      return (Number.isInteger(value) ? WORDS[value] : undefined) ?? tickText(value, decimals);
    case 'signed':
      return `${value > 0 && Number(value.toFixed(decimals)) !== 0 ? '+' : ''}${tickText(value, decimals)}`;
    case 'number':
      return tickText(value, decimals);
  }
}

/**
 * Writes a figure for people: `0.0741 \u00b1 0.0009 m/s`, `00:13:16.3 \u00b1 0.4 s`.
 *
 * @param figure any figure; radians are shown in degrees
 * @param options how
 * @returns one line with no-break spaces; `not known` where the figure has no value
 */
export function figureText(figure: Figure, options: FigureTextOptions = {}): string {
  const { form = 'number', uncertainty = 'with' } = options;
  if (figure.value === null || !Number.isFinite(figure.value)) return 'not known';
  const unit = options.unit ?? SHOWN_UNIT[figure.unit] ?? figure.unit;
  const value = valueInUnit(figure.value, unit);
  const half = halfWidth95(figure);
  const shownHalf = half === null ? 0 : valueInUnit(half, unit);
  const isTime = form === 'time' || form === 'duration' || form === 'spoken';
  const usual = Number.isInteger(value) && unit === '' ? 0 : (PLAIN_DECIMALS[unit] ?? 3);
  const meant = shownHalf > 0 ? decimalsForUncertainty(shownHalf) : usual;
  const decimals = options.digits ?? Math.min(MOST_DECIMALS[unit] ?? 6, meant);
  const parts = [writeNumber(value, decimals, form)];
  const spread = uncertainty === 'with' && shownHalf > 0;
  // A half-width under the last digit shown is written as that digit: never narrower than it is.
  if (spread) parts.push(`\u00b1\u00a0${Math.max(shownHalf, 10 ** -decimals).toFixed(decimals)}`);
  // A clock reading carries its own unit; the half-width beside it is in seconds.
  if (!isTime || spread) parts.push(unit);
  return parts.filter((part) => part !== '').join('\u00a0');
}
