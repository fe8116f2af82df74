/** What a comparison with simulator runs yields; a part of the reconstruction, JSON-safe. */
import type { Figure } from '../figure';
import type { RunAbout } from '../session/runs-about';

/** Why a run does not count. */
export type RunLeftOut = Readonly<{ name: string; reason: string }>;

/**
 * The flight against one column at the same places: `bias` is the mean of flight minus the other, `rms`
 * and `peak` (with its sign, at `peakAxialM`) are of the same difference. `theil` is Theil's bounded
 * coefficient, its three shares those of the mean square difference.
 */
export type PairComparison = Readonly<{
  against: string;
  bias: Figure;
  rms: Figure;
  peak: Figure;
  peakAxialM: number | null;
  theil: Figure;
  theilBias: Figure;
  theilVariance: Figure;
  theilCovariance: Figure;
}>;

/**
 * A quantity of the flight against the runs at whole metres of axial distance inside the final step.
 *
 * Lists are in the order of `axialM`, ascending; `null` = no value there. `p05`, `p50`, `p95` are
 * linear (type 7) quantiles over the `runsThere` that reach the place. `outside` are stretches in which
 * the flight leaves p05 to p95, each from its far end to its near end.
 */
export type ComparedQuantity = Readonly<{
  name: string;
  label: string;
  unit: string;
  axialM: readonly number[];
  flight: readonly (number | null)[];
  p05: readonly (number | null)[];
  p50: readonly (number | null)[];
  p95: readonly (number | null)[];
  runsThere: readonly number[];
  /** How many places the flight has a value at, and the band: what their columns rest on. */
  places: Figure;
  bandPlaces: Figure;
  outside: readonly (readonly [fromM: number, toM: number])[];
  /** Share of the places at which the flight lies outside. */
  shareOutside: Figure;
  /** The same share of single runs: what chance alone puts outside. Median and 95th percentile. */
  chanceMedian: Figure;
  chanceP95: Figure;
  /** Runs with a smaller share than the flight, of all. */
  shareRunsBelow: number;
  /** The run nearest the flight over all quantities, here; empty where there is none. */
  nearest: readonly (number | null)[];
  /** Against the median of the runs, then against the nearest run. */
  pairs: readonly PairComparison[];
}>;

/**
 * One number of the final step, the flight's and the runs'. `runsBelow` counts strictly below.
 * `chance` is the largest chance of lying so far out on one side; `p95Supported` tells whether the
 * number of runs bounds the 95th percentile from above. `standsOut`: beyond all of at least twenty runs,
 * half as far again from their median as the farthest of them.
 */
export type ComparisonScore = Readonly<{
  name: string;
  label: string;
  unit: string;
  flight: Figure;
  simMedian: Figure;
  simP95: Figure;
  p95Supported: boolean;
  runs: number;
  /** `runsBelow` as a figure. */
  rank: Figure;
  runsBelow: number;
  runsAbove: number;
  chance: number;
  standsOut: boolean;
}>;

/** An axis of the final step: its standard deviation flown, in the median run, and the ratio of both. */
export type AxisRatio = Readonly<{
  axis: string;
  label: string;
  flight: Figure;
  simulator: Figure;
  ratio: Figure;
  /** `loose` and `tight` stand out; `not known` where the ratio has no value or the runs are too few. */
  verdict: 'loose' | 'tight' | 'usual' | 'not known';
}>;

/**
 * What the reconstructions say of an axis: `not claimed` where one of them differs from the flight in
 * more than the vehicle, or it is not stated.
 */
export type VehicleAxis = Readonly<{
  axis: string;
  label: string;
  ratio: Figure;
  verdict: 'looser' | 'tighter' | 'as simulated' | 'not claimed';
}>;

/**
 * Runs described alike. `differs` is what stands in the way of a like-for-like claim, `unstated` what
 * nobody said; `stepS` is the median step between rows.
 */
export type RunGroup = RunAbout &
  Readonly<{
    names: readonly string[];
    stepS: number;
    differs: readonly string[];
    unstated: readonly string[];
  }>;

/** One run by name with its scores, in the order of the comparison's; `null` = none. */
export type RunScores = Readonly<{
  name: string;
  sha256: string;
  scores: readonly (number | null)[];
}>;

export type Comparison = Readonly<{
  /** Runs that the bands and scores count: predictions, where there are any. */
  runs: number;
  /** What is said about the runs, reconstructions included. */
  groups: readonly RunGroup[];
  /** Empty without reconstructions. */
  vehicle: readonly VehicleAxis[];
  leftOut: readonly RunLeftOut[];
  /** The step compared, by id. */
  step: string;
  /** Whether the flight completed it; a step cut short is held against nothing that makes it stand out. */
  completed: boolean;
  /** A sentence: what was brought together, and how. */
  alignedOn: string;
  /** Session time at which the flight passes each distance of the quantities' `axialM`, s. */
  flightPassS: readonly (number | null)[];
  quantities: readonly ComparedQuantity[];
  scores: readonly ComparisonScore[];
  axes: readonly AxisRatio[];
  runScores: readonly RunScores[];
  /** The run nearest the flight over all compared quantities, and how far it is, in widths of the band. */
  nearest: Readonly<{ name: string; distance: Figure }> | null;
}>;
