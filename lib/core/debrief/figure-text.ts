/** A figure as text: unit for people, digits by its uncertainty. */
import { type Figure, halfWidth95 } from '../figure';
import { valueInUnit } from '../reconstruction/display-unit';
import { tickText } from './plot-axis';

/** Units that people read in place of the core's own. */
const SHOWN_UNIT: Readonly<Record<string, string>> = { rad: 'deg', 'rad/s': 'deg/s' };

/** Decimals where no uncertainty is known, by unit; common practice, no source. */
const PLAIN_DECIMALS: Readonly<Record<string, number>> = {
  s: 1,
  m: 2,
  'm/s': 3,
  deg: 2,
  'deg/s': 3,
  'cm/s': 1,
  cm: 0,
  mm: 0,
  kg: 1,
  Pa: 0,
};

export type FigureText = Readonly<{
  /** The number alone, with a true minus sign; `not known` where there is none. */
  value: string;
  /** `± 0.2`, or '' where no uncertainty is known or it is zero. */
  plusMinus: string;
  unit: string;
  /** All three with spaces between. */
  full: string;
  /** Number and unit without the uncertainty. */
  short: string;
}>;

/** The unit a figure is shown in; '' for a plain count. */
export function shownUnit(unit: string): string {
  return unit === '1' ? '' : (SHOWN_UNIT[unit] ?? unit);
}

/**
 * Decimals that an uncertainty leaves meaningful.
 *
 * Two significant digits of the half-width where its first three digits read 100 to 354, one where
 * they read 355 to 949, and 950 to 999 count as 1000 with two.
 *
 * @param halfWidth half-width in the unit shown, positive
 * @returns decimals to show, 0 to 9
 *
 * Source: Particle Data Group, Review of Particle Physics, Introduction, "Rounding" (from memory).
 */
export function decimalsForUncertainty(halfWidth: number): number {
  const power = Math.floor(Math.log10(halfWidth));
  const lead = Math.round(halfWidth / 10 ** (power - 2));
  const decimals = lead < 355 ? 1 - power : lead < 950 ? -power : -power;
  return Math.min(9, Math.max(0, decimals));
}

/**
 * Writes a figure for people.
 *
 * @param figure any figure; radians are shown in degrees
 * @param options `unit` to show it in instead, `digits` decimals instead of those by uncertainty
 * @returns its parts as text
 */
export function figureText(
  figure: Figure,
  options: Readonly<{ unit?: string | null; digits?: number | null }> = {},
): FigureText {
  const unit = options.unit ?? shownUnit(figure.unit);
  if (figure.value === null) {
    return { value: 'not known', plusMinus: '', unit, full: 'not known', short: 'not known' };
  }
  const value = valueInUnit(figure.value, unit);
  const half = halfWidth95(figure);
  const shownHalf = half === null ? null : valueInUnit(half, unit);
  const known = shownHalf !== null && shownHalf > 0;
  const plain = Number.isInteger(value) && unit === '' ? 0 : (PLAIN_DECIMALS[unit] ?? 3);
  const decimals = options.digits ?? (known ? decimalsForUncertainty(shownHalf) : plain);
  const number = tickText(value, decimals);
  const plusMinus = known ? `\u00b1 ${shownHalf.toFixed(decimals)}` : '';
  const withUnit = (parts: readonly string[]) => parts.filter((part) => part !== '').join(' ');
  return {
    value: number,
    plusMinus,
    unit,
    full: withUnit([number, plusMinus, unit]),
    short: withUnit([number, unit]),
  };
}
