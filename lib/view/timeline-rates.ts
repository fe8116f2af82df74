/** Rates at the cursor as texts. */
import { formatSigned } from '../core/units/number-text';
import { rateUnit, readerUnit } from '../core/units/reader-unit';

/** `text` with its unit, `no rate` over a gap, a step or too few samples. */
export type RatesView = Readonly<{
  atS: number;
  rates: readonly Readonly<{ key: string; text: string }>[];
}>;

type Rate = Readonly<{
  key: string;
  /** SI, of the channel itself. */
  unit: string;
  /** SI per second; null where there is none. */
  rate: number | null;
}>;

/** @param rates of columns at one instant, SI */
export function ratesView(atS: number, rates: readonly Rate[]): RatesView {
  return { atS, rates: rates.map(({ key, unit, rate }) => ({ key, text: rateText(unit, rate) })) };
}

function rateText(channelUnit: string, rate: number | null): string {
  if (rate === null) return 'no rate';
  const { unit, fromSi, decimals } = readerUnit(rateUnit(channelUnit));
  return `${formatSigned(rate * fromSi, decimals)} ${unit}`;
}
