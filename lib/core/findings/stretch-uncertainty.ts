/** How well the figures of a stretch are known, from what the session already says. */
import type { Figure, Uncertainty } from '../figure';
import { limitsOfRule } from '../session/limit-columns';
import type { StretchInput } from './stretch-figure';

/** The half-width of a single estimate of a quantity, taken from a rule on it. */
export function ruleUncertainty(input: StretchInput, quantity: string): Uncertainty | null {
  const rule = input.reconstruction.ruleSet.find(
    (each) => limitsOfRule(each)?.quantity === quantity,
  );
  const result = input.reconstruction.rules.find((each) => each.id === rule?.id);
  return result?.instantMargin?.uncertainty ?? null;
}

/** Range at both ends over the length: the mean of the rate is known as well as the ranges are. */
export function meanRateUncertainty(input: StretchInput): Uncertainty | null {
  const range = nearestRangeUncertainty(input);
  const lengthS = input.toS - input.fromS;
  if (range === null || range.random === null || lengthS <= 0) return null;
  return { random: (Math.SQRT2 * range.random) / lengthS, systematic: null };
}

/** How well the range is known at the edge of a phase that lies nearest to the middle. */
export function nearestRangeUncertainty(input: StretchInput): Uncertainty | null {
  const middle = (input.fromS + input.toS) / 2;
  const edges = input.reconstruction.phases.flatMap((phase) => [
    { tS: phase.startS.value, figure: phase.rangeStartM },
    { tS: phase.endS.value, figure: phase.rangeEndM },
  ]);
  let nearest: Figure | null = null;
  let distance = Number.POSITIVE_INFINITY;
  for (const { tS, figure } of edges) {
    if (tS === null || Math.abs(tS - middle) >= distance) continue;
    distance = Math.abs(tS - middle);
    nearest = figure;
  }
  return nearest?.uncertainty ?? null;
}
