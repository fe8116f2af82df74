/** Quantities made of others: a change per second, and the root of a sum of squares. */
import { lowerBound } from '../math/search';
import { quantityWords } from '../session/general-rule';
import type { QuantityRef } from '../session/rule';
import { rateUnit } from '../units/quantity';
import type { EstimatedQuantity, RuleContext } from './rule-context';

/** Half of the time over which a slope is taken, s. Our own choice. */
const HALF_SLOPE_S = 2;

/**
 * The change of a quantity per second: the slope of a straight line by least squares over the rows
 * within 2 s to either side, never across a gap.
 *
 * Neighbours' errors hang together over the quantity's span, so only one row a span counts as a
 * measurement of its own.
 *
 * @returns NaN where fewer than three rows are there
 */
export function rateOf(quantity: EstimatedQuantity): EstimatedQuantity {
  const { tS, value, sd, spanS } = quantity;
  const rate = new Float64Array(tS.length).fill(Number.NaN);
  const rateSd = new Float64Array(tS.length).fill(Number.NaN);
  for (const stretch of quantity.stretches) {
    let from = stretch.from;
    let to = stretch.from;
    for (let row = stretch.from; row < stretch.to; row++) {
      const atS = tS[row] ?? 0;
      while ((tS[from] ?? atS) < atS - HALF_SLOPE_S - 1e-9) from++;
      while (to < stretch.to && (tS[to] ?? 0) <= atS + HALF_SLOPE_S + 1e-9) to++;
      let [count, sumT, sumY, sumTt, sumTy] = [0, 0, 0, 0, 0];
      for (let i = from; i < to; i++) {
        const y = value[i] ?? Number.NaN;
        if (Number.isNaN(y)) continue;
        const t = (tS[i] ?? 0) - atS;
        count++;
        sumT += t;
        sumY += y;
        sumTt += t * t;
        sumTy += t * y;
      }
      const spread = sumTt - (sumT * sumT) / count;
      if (count < 3 || !(spread > 0)) continue;
      rate[row] = (sumTy - (sumT * sumY) / count) / spread;
      const lastedS = (tS[to - 1] ?? atS) - (tS[from] ?? atS);
      const own = Math.max(2, Math.min(count, lastedS / Math.max(spanS, 1e-9)));
      rateSd[row] = (sd[row] ?? 0) * Math.sqrt(count / own / spread);
    }
  }
  const { courses: _, ...kept } = quantity;
  return {
    ...kept,
    value: rate,
    sd: rateSd,
    unit: rateUnit(quantity.unit),
    spanS: Math.max(spanS, 2 * HALF_SLOPE_S),
    // A stated accuracy is a bias that stays; its change is not stated.
    systematic: null,
    method: `Slope of straight lines over 4 s, by least squares. ${quantity.method}`,
  };
}

/** A column of a quantity on other times: linear between rows of one stretch, else NaN. */
function onTimes(
  quantity: EstimatedQuantity,
  values: Float64Array,
  tS: Float64Array,
): Float64Array {
  if (quantity.tS === tS) return values;
  const stretchOf = new Int32Array(quantity.tS.length);
  quantity.stretches.forEach(({ from, to }, index) => {
    stretchOf.fill(index, from, to);
  });
  return tS.map((atS) => {
    const after = lowerBound(quantity.tS, atS);
    if (quantity.tS[after] === atS) return values[after] ?? Number.NaN;
    if (after === 0 || after >= quantity.tS.length) return Number.NaN;
    if (stretchOf[after] !== stretchOf[after - 1]) return Number.NaN;
    const t0 = quantity.tS[after - 1] ?? atS;
    const t1 = quantity.tS[after] ?? atS;
    const v0 = values[after - 1] ?? Number.NaN;
    return v0 + ((atS - t0) / (t1 - t0)) * ((values[after] ?? Number.NaN) - v0);
  });
}

/**
 * Root of the sum of squares of quantities, at the rows of the first of them.
 *
 * Its noise is that along the vector; near zero, where the root cannot show a sign, the largest of the
 * parts' own.
 *
 * @param parts one or more, of one unit
 */
export function vectorSumOf(parts: readonly EstimatedQuantity[]): EstimatedQuantity | null {
  const [first] = parts;
  if (first === undefined) return null;
  const { tS } = first;
  const values = parts.map((part) => onTimes(part, part.value, tS));
  const sds = parts.map((part) => onTimes(part, part.sd, tS));
  const value = new Float64Array(tS.length);
  const sd = new Float64Array(tS.length);
  for (let row = 0; row < tS.length; row++) {
    let [squares, along, largest] = [0, 0, 0];
    values.forEach((column, index) => {
      const one = column[row] ?? Number.NaN;
      const own = sds[index]?.[row] ?? 0;
      squares += one * one;
      along += (one * own) ** 2;
      largest = Math.max(largest, own);
    });
    const root = Math.sqrt(squares);
    value[row] = root;
    sd[row] = root > largest ? Math.sqrt(along) / root : largest;
  }
  const stated = parts.map(({ systematic }) => systematic);
  const { courses: _, ...kept } = first;
  return {
    ...kept,
    value,
    sd,
    noise: parts.some(({ noise }) => noise === 'unknown') ? 'unknown' : 'estimated',
    spanS: Math.max(...parts.map(({ spanS }) => spanS)),
    systematic: stated.some((one) => one === null) ? null : Math.max(...stated.map(Number)),
    channels: [...new Set(parts.flatMap(({ channels }) => channels))],
    faults: parts.flatMap(({ faults }) => faults ?? []),
    method: `Root of the sum of squares at the rows of the first. ${first.method}`,
  };
}

/**
 * The quantity a rule bounds.
 *
 * @returns the quantity, or in words which name no source carries
 */
export function quantityOf(ref: QuantityRef, context: RuleContext): EstimatedQuantity | string {
  if (ref.kind === 'vector-sum') {
    const parts: EstimatedQuantity[] = [];
    for (const name of ref.of) {
      const part = context.quantity(name);
      if (part === null) return name;
      parts.push(part);
    }
    return vectorSumOf(parts) ?? quantityWords(ref);
  }
  const name = ref.kind === 'rate' ? ref.of : ref.name;
  const quantity = context.quantity(name);
  if (quantity === null) return name;
  return ref.kind === 'rate' ? rateOf(quantity) : quantity;
}
