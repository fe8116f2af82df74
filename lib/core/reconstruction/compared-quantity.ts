/** One quantity of the flight against the runs' band, place by place. */
import {
  type EnsembleBand,
  outsideStretches,
  placesOutside,
  shareOutside,
} from '../compare/ensemble-band';
import type { Lag } from '../compare/lag';
import { pairScores } from '../compare/pair-scores';
import { shareWithin, type ToleranceKind } from '../compare/tolerance';
import type { Figure } from '../figure';
import { rankAmong } from '../math/order-statistics';
import { quantileSorted } from '../math/quantiles';
import { readerUnit } from '../units/reader-unit';
import type { ComparedName } from './compared-names';
import type { AskedTolerances, ComparedQuantity, PairComparison } from './comparison';
import { figureOf, type Origin } from './figure-of';
import type { ComparedOrigins } from './runs-origin';

/** The flight and the runs at the places of a grid, one quantity of each; NaN = no value there. */
export type HeldQuantity = Readonly<{
  named: ComparedName;
  places: Float64Array;
  flight: Float64Array;
  runs: readonly Float64Array[];
  band: EnsembleBand;
}>;

/** A column as a list for JSON: `null` for NaN. */
export function listed(values: Float64Array): readonly (number | null)[] {
  return Array.from(values, (value) => (Number.isNaN(value) ? null : value));
}

/** The run that is held against the flight: its values at the places, and how much later the flight is. */
export type Opened = Readonly<{ name: string; values: Float64Array; lag: Lag | null }>;

type Asked = Readonly<{
  origins: ComparedOrigins;
  tolerances: AskedTolerances;
  unit: 'm' | 's';
}>;

const TOLERANCE_WORDS: Readonly<Record<ToleranceKind, (size: string, share: string) => string>> = {
  absolute: (size) => size,
  percent: (_, share) => share,
  either: (size, share) => `${size} or ${share}, whichever is more`,
  both: (size, share) => `${size} and ${share}`,
  less: (size, share) => `${size} or ${share}, whichever is less`,
};

function insideFigure(
  { named, flight }: HeldQuantity,
  other: Float64Array,
  { kind, percent, absolute }: AskedTolerances,
  origin: Origin,
) {
  const size = absolute[named.unit] ?? 0;
  const { unit, fromSi } = readerUnit(named.unit);
  const words = TOLERANCE_WORDS[kind](
    `${Number((size * fromSi).toPrecision(6))} ${unit}`,
    `${percent} % of the flight’s value`,
  );
  return figureOf(origin, {
    value: shareWithin(flight, other, { kind, percent, absolute: size }),
    unit: '1',
    random: null,
    method: `Share of the places at which flight and simulation differ by at most ${words}.`,
  });
}

function lagFigure({ lagS, correlation, reason }: Lag, origin: Origin): Figure {
  const likeness = Number.isNaN(correlation) ? '' : ` (correlation ${correlation.toFixed(2)})`;
  return figureOf(origin, {
    value: lagS,
    unit: 's',
    random: null,
    method: `Shift at which both correlate best over the time of the step compared, within 30 s; positive where the flight comes later${likeness}.`,
    ...(reason === null ? {} : { reason }),
  });
}

/** The flight against one other column. */
function comparePair(
  held: HeldQuantity,
  other: Readonly<{ against: string; values: Float64Array; lag: Lag | null }>,
  { tolerances, origin }: Readonly<{ tolerances: AskedTolerances; origin: Origin }>,
): PairComparison {
  const { named, places, flight } = held;
  const scores = pairScores(flight, other.values);
  const how = `over the places, flight minus ${other.against}`;
  const figure = (value: number, unit: string, method: string) =>
    figureOf(origin, { value, unit, random: null, method: `${method} ${how}.` });
  const share = 'of the mean square difference (Theil),';
  return {
    against: other.against,
    bias: figure(scores.bias, named.unit, 'Mean difference'),
    rms: figure(scores.rms, named.unit, 'Root mean square difference'),
    peak: figure(scores.peak, named.unit, 'Difference farthest from zero'),
    peakPlace: places[scores.peakPlace] ?? null,
    inside: insideFigure(held, other.values, tolerances, origin),
    lag: other.lag === null ? null : lagFigure(other.lag, origin),
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
  opened: Opened | null,
  { origins, tolerances, unit }: Asked,
): ComparedQuantity {
  const { named, places, flight, runs, band } = held;
  const share = shareOutside(flight, band);
  const shares = Float64Array.from(runs, (run) => shareOutside(run, band))
    .filter((each) => !Number.isNaN(each))
    .sort();
  const figure = (origin: Origin, value: number, method: string) =>
    figureOf(origin, { value, unit: '1', random: null, method });
  const each = 'Share of the places at which a run leaves p05 to p95 of all runs';
  const at = (place: number): number => places[place] ?? Number.NaN;
  const step = smallestStep(places);
  return {
    ...named,
    places: Array.from(places),
    flight: listed(flight),
    p05: listed(band.p05),
    p50: listed(band.p50),
    p95: listed(band.p95),
    runsThere: band.runsThere,
    outside: outsideStretches(
      placesOutside(flight, band),
      (place) => at(place) - at(place - 1) <= 1.5 * step,
    )
      .map(([first, last]): [number, number] =>
        unit === 'm' ? [at(last), at(first)] : [at(first), at(last)],
      )
      .sort((a, b) => (unit === 'm' ? b[0] - a[0] : a[0] - b[0])),
    flightPlaces: figure(
      origins.flight,
      flight.filter((value) => !Number.isNaN(value)).length,
      'Places at which the flight has a value: its own estimate, linear between rows.',
    ),
    bandPlaces: figure(
      origins.runs,
      band.p50.filter((value) => !Number.isNaN(value)).length,
      'Places at which runs have a value: each run’s own estimate, linear between rows; 5th, 50th and 95th percentile over the runs there (linear, type 7).',
    ),
    shareOutside: figure(
      origins.both,
      share,
      'Share of the places at which the flight leaves p05 to p95.',
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
    opened: opened === null ? [] : listed(opened.values),
    pairs: [
      comparePair(
        held,
        { against: 'the median of the runs', values: band.p50, lag: null },
        { tolerances, origin: origins.both },
      ),
      ...(opened === null
        ? []
        : [
            comparePair(
              held,
              { against: opened.name, values: opened.values, lag: opened.lag },
              { tolerances, origin: origins.withRun(opened.name) },
            ),
          ]),
    ],
  };
}

/** Smallest way from a place to the next. */
function smallestStep(places: Float64Array): number {
  let step = Number.POSITIVE_INFINITY;
  for (let k = 1; k < places.length; k++)
    step = Math.min(step, (places[k] ?? Number.NaN) - (places[k - 1] ?? Number.NaN));
  return step;
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
