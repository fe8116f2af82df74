/** The comparison under the names and units of `reconstruction.json`. */
import type { ComparedQuantity, Comparison, ComparisonScore } from './comparison';
import { valueInUnit } from './display-unit';

/** Angles leave the core in degrees, as the keys of scores say. */
function fileUnit(unit: string): string {
  if (unit === 'rad') return 'deg';
  return unit === 'rad/s' ? 'deg/s' : unit;
}

function quantityEntry(quantity: ComparedQuantity): object {
  const unit = fileUnit(quantity.unit);
  const list = (values: readonly (number | null)[]) =>
    values.map((value) => (value === null ? null : valueInUnit(value, unit)));
  return {
    unit,
    axial_m: quantity.places,
    flight: list(quantity.flight),
    p05: list(quantity.p05),
    p50: list(quantity.p50),
    p95: list(quantity.p95),
    outside: quantity.outside,
  };
}

function scoreEntry({ unit, flight, simMedian, simP95, runsBelow }: ComparisonScore): object {
  const value = (figure: ComparisonScore['flight']): number | null =>
    figure.value === null ? null : valueInUnit(figure.value, fileUnit(unit));
  return {
    flight: value(flight),
    sim_median: value(simMedian),
    sim_p95: value(simP95),
    runs_below: runsBelow,
  };
}

/** @returns a plain object for JSON, keys in the contract's order */
export function comparisonEntry(comparison: Comparison): object {
  return {
    runs: comparison.runs,
    aligned_on: comparison.alignedOn,
    quantities: Object.fromEntries(
      comparison.quantities.map((quantity) => [quantity.name, quantityEntry(quantity)]),
    ),
    scores: Object.fromEntries(comparison.scores.map((score) => [score.name, scoreEntry(score)])),
  };
}
