/** One quantity of the flight against the runs' band, place by place. */
import {
  type EnsembleBand,
  outsideStretches,
  placesOutside,
  shareOutside,
} from '../compare/ensemble-band';
import { pairScores } from '../compare/pair-scores';
import { rankAmong } from '../math/order-statistics';
import { quantileSorted } from '../math/quantiles';
import type { ComparedName } from './compared-names';
import type { ComparedQuantity, PairComparison } from './comparison';
import { figureOf, type Origin } from './figure-of';
import type { ComparedOrigins } from './runs-origin';

/** The flight and the runs at the places of a grid, one quantity of each; NaN = no value there. */
export type HeldQuantity = Readonly<{
  named: ComparedName;
  gridM: Float64Array;
  flight: Float64Array;
  runs: readonly Float64Array[];
  band: EnsembleBand;
}>;

/** A column as a list for JSON: `null` for NaN. */
export function listed(values: Float64Array): readonly (number | null)[] {
  return Array.from(values, (value) => (Number.isNaN(value) ? null : value));
}

/** The flight against one other column. */
function comparePair(
  { named, gridM, flight }: HeldQuantity,
  other: Readonly<{ against: string; values: Float64Array }>,
  origin: Origin,
): PairComparison {
  const scores = pairScores(flight, other.values);
  const how = `at whole metres of axial distance, flight minus ${other.against}`;
  const figure = (value: number, unit: string, method: string) =>
    figureOf(origin, { value, unit, random: null, method: `${method} ${how}.` });
  const share = 'of the mean square difference (Theil),';
  return {
    against: other.against,
    bias: figure(scores.bias, named.unit, 'Mean difference'),
    rms: figure(scores.rms, named.unit, 'Root mean square difference'),
    peak: figure(scores.peak, named.unit, 'Difference farthest from zero'),
    peakAxialM: gridM[scores.peakPlace] ?? null,
    theil: figure(scores.theil, '1', 'Theil’s coefficient of inequality, bounded form,'),
    theilBias: figure(scores.theilBias, '1', `Share from unequal means ${share}`),
    theilVariance: figure(scores.theilVariance, '1', `Share from unequal deviations ${share}`),
    theilCovariance: figure(
      scores.theilCovariance,
      '1',
      `Share from imperfect correlation ${share}`,
    ),
  };
}

/**
 * Band, stretches outside, and how much of it chance alone would put outside: each run is held against
 * the band of all runs in the same way.
 */
export function compareQuantity(
  held: HeldQuantity,
  nearest: Readonly<{ name: string; index: number }> | null,
  origins: ComparedOrigins,
): ComparedQuantity {
  const { named, gridM, flight, runs, band } = held;
  const near = nearest === null ? undefined : runs[nearest.index];
  const share = shareOutside(flight, band);
  const shares = Float64Array.from(runs, (run) => shareOutside(run, band))
    .filter((each) => !Number.isNaN(each))
    .sort();
  const figure = (origin: Origin, value: number, method: string) =>
    figureOf(origin, { value, unit: '1', random: null, method });
  const each = 'Share of whole metres at which a run leaves p05 to p95 of all runs';
  const metre = (place: number): number => gridM[place] ?? Number.NaN;
  return {
    ...named,
    axialM: Array.from(gridM),
    flight: listed(flight),
    p05: listed(band.p05),
    p50: listed(band.p50),
    p95: listed(band.p95),
    runsThere: band.runsThere,
    outside: outsideStretches(
      placesOutside(flight, band),
      (place) => metre(place) - metre(place - 1) <= 1,
    )
      .map(([first, last]): [number, number] => [metre(last), metre(first)])
      .toReversed(),
    places: figure(
      origins.flight,
      flight.filter((value) => !Number.isNaN(value)).length,
      'Whole metres at which the flight has a value: its own estimate on the last pass, linear between rows.',
    ),
    bandPlaces: figure(
      origins.runs,
      band.p50.filter((value) => !Number.isNaN(value)).length,
      'Whole metres at which runs have a value: each run’s own estimate on its last pass, linear between rows; 5th, 50th and 95th percentile over the runs there (linear, type 7).',
    ),
    shareOutside: figure(
      origins.both,
      share,
      'Share of whole metres at which the flight leaves p05 to p95.',
    ),
    chanceMedian: figure(
      origins.runs,
      quantileSorted(shares, 0.5, 7),
      `${each}; median over the runs.`,
    ),
    chanceP95: figure(
      origins.runs,
      quantileSorted(shares, 0.95, 7),
      `${each}; 95th percentile over the runs.`,
    ),
    shareRunsBelow: rankAmong(share, shares).below,
    nearest: near === undefined ? [] : listed(near),
    pairs: [
      comparePair(held, { against: 'the median of the runs', values: band.p50 }, origins.both),
      ...(near === undefined || nearest === null
        ? []
        : [
            comparePair(
              held,
              { against: nearest.name, values: near },
              origins.withRun(nearest.name),
            ),
          ]),
    ],
  };
}

/**
 * How far a run lies from the flight: root mean square of the differences at all places of all
 * quantities, each in half-widths of the band there; NaN where nothing can be compared.
 */
export function distanceFromFlight(run: number, held: readonly HeldQuantity[]): number {
  let sum = 0;
  let places = 0;
  for (const { flight, runs, band } of held) {
    flight.forEach((value, place) => {
      const other = runs[run]?.[place] ?? Number.NaN;
      const half = ((band.p95[place] ?? Number.NaN) - (band.p05[place] ?? Number.NaN)) / 2;
      const far = (value - other) / half;
      if (!Number.isFinite(far)) return;
      sum += far * far;
      places++;
    });
  }
  return places === 0 ? Number.NaN : Math.sqrt(sum / places);
}
