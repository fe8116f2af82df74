/** What of a figure is shown, the same on a screen, in a debrief and on the command line. */
import { type Figure, halfWidth95 } from '../figure';
import { decimalsFor } from './number-text';
import { readerUnit } from './reader-unit';

/** `value` is in `unit`; `halfWidth` is its text, null where it is not known or exactly nothing. */
export type ShownFigure = Readonly<{
  value: number;
  unit: string;
  decimals: number;
  halfWidth: string | null;
}>;

export type ShownOptions = Readonly<{
  /** Unit to show it in where it fits; the reader's usual one otherwise. */
  unit?: string | null;
  /** Decimals in place of those by uncertainty. */
  digits?: number | null;
}>;

/** Where digits were cut short the half-width is rounded up: never narrower than it is. */
function halfWidthText(half: number, decimals: number): string {
  if (decimalsFor(half, decimals) <= decimals) return half.toFixed(decimals);
  const scale = 10 ** decimals;
  return (Math.ceil(half * scale) / scale).toFixed(decimals);
}

/** Decimals of a share whose uncertainty is not known: a small one keeps a digit or two to be told by. */
function shareDecimals(percent: number, usual: number): number {
  const size = Math.abs(percent);
  if (size === 0 || size >= 10) return usual;
  return Math.max(usual, size < 1 ? 2 : 1);
}

/**
 * A figure in the reader's unit, with the digits that its uncertainty leaves meaningful.
 *
 * @param figure any figure; its value and half-width are in its own unit
 * @param options unit and digits, where somebody asks for others
 * @returns value, unit, decimals and half-width (95 %); null where the figure has no value
 */
export function shownFigure(figure: Figure, options: ShownOptions = {}): ShownFigure | null {
  if (figure.value === null || !Number.isFinite(figure.value)) return null;
  const shown = readerUnit(figure.unit, options.unit ?? null);
  const value = figure.value * shown.fromSi;
  const half = halfWidth95(figure);
  const shownHalf = half === null ? 0 : half * shown.fromSi;
  const plain = Number.isInteger(value) && shown.unit === '' ? 0 : shown.decimals;
  const usual = shown.unit === '%' ? shareDecimals(value, plain) : plain;
  const decimals = options.digits ?? Math.min(shown.most, decimalsFor(shownHalf, usual));
  return {
    value,
    unit: shown.unit,
    decimals,
    halfWidth: shownHalf > 0 ? halfWidthText(shownHalf, decimals) : null,
  };
}
