/** The differences of two ranges over range: every point a sample, the bias by band, its interval. */
import type { PlotAxis } from '../../core/debrief/plot';
import { linearTicks, valueAxis } from '../../core/debrief/plot-axis';
import { halfWidth95 } from '../../core/figure';
import type {
  AgreementBand,
  PairDifferences,
  RangePair,
} from '../../core/reconstruction/navigation-report';
import { decimalsFor, formatCount, formatNumber, formatSigned } from '../../core/units/number-text';
import { formatSessionTime } from '../format-time';
import { thinRows } from './thin-points';

/** Bias over a band of range; `halfM` is the half-width of its 95 % interval, null = not known. */
type BiasBand = Readonly<{
  fromM: number;
  toM: number;
  biasM: number;
  halfM: number | null;
  words: string;
}>;

export type DifferencePicture = Readonly<{
  /** From the far end at the left to the port at the right. */
  x: PlotAxis;
  y: PlotAxis;
  /** Columns of one length, a point each, in the order of the flight: m, m, session time in s. */
  rangeM: readonly number[];
  differenceM: readonly number[];
  tS: readonly number[];
  /** Decimals that a difference deserves beside their scatter. */
  decimals: number;
  bands: readonly BiasBand[];
  /** What it shows, for who does not see it. */
  label: string;
  /** How many of how many points are drawn. */
  drawn: string;
}>;

const X_TICKS = 10;
const Y_TICKS = 6;

/** What is kept of a number that is drawn: a hundredth of a millimetre. */
function short(value: number): number {
  return Math.round(value * 1e5) / 1e5;
}

function bandOf(band: AgreementBand, farM: number, decimals: number): BiasBand[] {
  const biasM = band.biasM.value;
  const fromM = Math.min(band.fromM ?? farM, farM);
  if (biasM === null || fromM <= band.toM) return [];
  const halfM = halfWidth95(band.biasM);
  const half = halfM === null ? '' : ` ± ${formatNumber(halfM, decimals)}`;
  const words = `bias ${formatNumber(band.toM, 0)} to ${formatNumber(fromM, 0)} m: ${formatSigned(biasM, decimals)}${half} m`;
  return [{ fromM, toM: band.toM, biasM, halfM, words }];
}

function drawnWords(differences: PairDifferences, thinned: ReturnType<typeof thinRows>): string {
  const { tS, everySample, second } = differences;
  const counted =
    everySample === 1
      ? ''
      : ` Of the samples of ${second} one in ${formatCount(everySample)} is counted.`;
  if (thinned.parts === 0) return `All ${formatCount(tS.length)} differences are drawn.${counted}`;
  return `${formatCount(thinned.rows.length)} of ${formatCount(tS.length)} differences are drawn: some evenly apart, and the smallest and the largest of each of ${formatCount(thinned.parts)} parts of the flight.${counted}`;
}

/**
 * @param pair bias and scatter, as a whole and by range
 * @param differences what they are formed from; none gives no picture
 * @param most points to draw at most
 */
export function differencePicture(
  pair: RangePair,
  differences: PairDifferences | undefined,
  most: number,
): DifferencePicture | null {
  if (differences === undefined) return null;
  const { tS, rangeM, differenceM } = differences;
  const farM = rangeM.reduce((far, m) => Math.max(far, m), 0);
  if (!(farM > 0)) return null;
  const thinned = thinRows(differenceM, most);
  const take = (values: Float64Array): readonly number[] =>
    thinned.rows.map((row) => short(values[row] ?? Number.NaN));
  const decimals = decimalsFor(pair.scatterM.value, 3) + 1;
  const bands = pair.bands.flatMap((band) => bandOf(band, farM, decimals));
  const ends = bands.flatMap(({ biasM, halfM }) => [biasM - (halfM ?? 0), biasM + (halfM ?? 0)]);
  const y = valueAxis([0, ...differenceM, ...ends], { label: 'difference', unit: 'm' }, Y_TICKS);
  const least = differenceM.reduce((low, m) => Math.min(low, m), Number.POSITIVE_INFINITY);
  const largest = differenceM.reduce((high, m) => Math.max(high, m), Number.NEGATIVE_INFINITY);
  return {
    x: { label: 'range', unit: 'm', from: farM, to: 0, ticks: linearTicks(0, farM, X_TICKS) },
    y,
    rangeM: take(rangeM),
    differenceM: take(differenceM),
    tS: take(tS),
    decimals,
    bands,
    label: `${pair.second} less ${pair.first} over range, from ${formatNumber(farM, 0)} m at the left to the port at the right: differences from ${formatSigned(least, decimals)} to ${formatSigned(largest, decimals)} m. The table says the bias of each band.`,
    drawn: drawnWords(differences, thinned),
  };
}

/** What one point says under the pointer: a line each. */
export function pointWords(picture: DifferencePicture, index: number): readonly string[] {
  const { rangeM, differenceM, tS, decimals, bands } = picture;
  const at = (values: readonly number[]): number => values[index] ?? Number.NaN;
  const rangeAtM = at(rangeM);
  return [
    `difference ${formatSigned(at(differenceM), decimals)} m`,
    `range ${formatNumber(rangeAtM, decimals)} m`,
    `at ${formatSessionTime(at(tS))}`,
    ...bands
      .filter(({ toM, fromM }) => rangeAtM > toM && rangeAtM <= fromM)
      .map(({ words }) => words),
  ];
}
