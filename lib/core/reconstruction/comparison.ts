/** What a comparison with simulator runs yields; a part of the reconstruction, JSON-safe. */
import type { ToleranceKind } from '../compare/tolerance';
import type { Figure } from '../figure';
import type { RunAbout } from '../session/runs-about';

/** Why a run does not count. */
export type RunLeftOut = Readonly<{ name: string; reason: string }>;

/**
 * The flight against one column at the same places: `bias` is the mean of flight minus the other, `rms`
 * and `peak` (with its sign, at `peakPlace`) are of the same difference. `theil` is Theil's bounded
 * coefficient, its three shares those of the mean square difference.
 */
export type PairComparison = Readonly<{
  against: string;
  bias: Figure;
  rms: Figure;
  peak: Figure;
  peakPlace: number | null;
  /** Share of the places inside the tolerance that was asked. */
  inside: Figure;
  /** How much later the flight does the same; null against a median, which is no motion. */
  lag: Figure | null;
  theil: Figure;
  theilBias: Figure;
  theilVariance: Figure;
  theilCovariance: Figure;
}>;

/**
 * A quantity of the flight against the runs at the places of a comparison.
 *
 * Lists are in the order of `places` (m or s), ascending; `null` = no value there. `p05`, `p50`, `p95` are
 * linear (type 7) quantiles over the `runsThere` that reach the place. `outside` are stretches in which
 * the flight leaves p05 to p95: of distances from the far end to the near one, of times from early to late.
 */
export type ComparedQuantity = Readonly<{
  name: string;
  label: string;
  unit: string;
  places: readonly number[];
  flight: readonly (number | null)[];
  p05: readonly (number | null)[];
  p50: readonly (number | null)[];
  p95: readonly (number | null)[];
  runsThere: readonly number[];
  /** How many places the flight has a value at, and the band: what their columns rest on. */
  flightPlaces: Figure;
  bandPlaces: Figure;
  outside: readonly (readonly [fromM: number, toM: number])[];
  /** Share of the places at which the flight lies outside. */
  shareOutside: Figure;
  /** The same share of single runs: what chance alone puts outside. Median and 95th percentile. */
  chanceMedian: Figure;
  chanceP95: Figure;
  /** Runs with a smaller share than the flight, of all. */
  shareRunsBelow: number;
  /** The opened run here; empty where there is none. */
  opened: readonly (number | null)[];
  /** Against the median of the runs, then against the opened run. */
  pairs: readonly PairComparison[];
}>;

/**
 * One number of the final step, the flight's and the runs'. `runsBelow` counts strictly below.
 * `chance` is the largest chance of lying so far out on one side; `p95Supported` tells whether the
 * number of runs bounds the 95th percentile from above. `standsOut`: beyond all of at least twenty runs,
 * `farAgain` as far again from their median as the farthest of them; `isFarForAxis` the same as one of six axes.
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
  isFarForAxis: boolean;
}>;

/** An axis of the final step: its standard deviation flown, in the median run, and the ratio of both. */
export type AxisRatio = Readonly<{
  axis: string;
  label: string;
  flight: Figure;
  simulator: Figure;
  ratio: Figure;
  /**
   * `loose` and `tight` lie far beyond all runs, `beyond` beyond all of them and not far; `not known` where
   * the ratio has no value, the runs are too few or the flight did not complete the step.
   */
  verdict: 'loose' | 'tight' | 'beyond' | 'usual' | 'not known';
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

/**
 * A measure of the final step; `simulator` is the median of the runs that have it, null for none. `ratio`
 * is the flight's over that, null where either has no size; absent in an older reconstruction.
 */
export type AxisMeasure = Readonly<{
  key: string;
  label: string;
  flight: Figure;
  simulator: Figure | null;
  ratio?: Figure | null;
}>;

/** One run by name with its scores, in the order of the comparison's; `null` = none. */
export type RunScores = Readonly<{
  name: string;
  sha256: string;
  scores: readonly (number | null)[];
}>;

/** What is tolerated: a kind, a percentage of the flight's value, and a size by SI unit. */
export type AskedTolerances = Readonly<{
  kind: ToleranceKind;
  percent: number;
  absolute: Readonly<Record<string, number>>;
}>;

/** A run with its distance from the flight, in half-widths of the band; null where it has none. */
export type RunDistance = Readonly<{ name: string; distance: number | null }>;

/**
 * The part of a comparison that depends on what was aligned. `flightPassS` is the session time at which
 * the flight is at each place; `order` lists the runs of the bands, the most like the flight first.
 */
export type AlignedComparison = Readonly<{
  /** What was brought together. */
  alignedOn: string;
  unit: 'm' | 's';
  /**
   * What was aligned and what fell outside; times of the flight, s, null where it is at no place.
   * `reason` says why nothing could be aligned; null where something was.
   */
  report: Readonly<{
    places: number;
    whole: number;
    partly: number;
    none: readonly string[];
    fromS: number | null;
    toS: number | null;
    reason: string | null;
  }>;
  flightPassS: readonly (number | null)[];
  quantities: readonly ComparedQuantity[];
  order: readonly RunDistance[];
  /**
   * What else can be aligned on: steps and events that the flight and at least one run have. `closing` are
   * those of the steps, the final one aside, that can be aligned on distance; absent in an older one.
   */
  choices: Readonly<{
    steps: readonly string[];
    closing?: readonly string[];
    events: readonly string[];
  }>;
  /** The run that is held against the flight; null where none can be. */
  opened: string | null;
  nearest: Readonly<{ name: string; distance: Figure }> | null;
}>;

export type Comparison = AlignedComparison &
  Readonly<{
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
    scores: readonly ComparisonScore[];
    axes: readonly AxisRatio[];
    /** Hand controller, limit cycles and jets; absent in an older reconstruction. */
    measures?: readonly AxisMeasure[];
    runScores: readonly RunScores[];
  }>;
