/** Whether the navigation behind an approach can be trusted: what its screen shows. */
import type { Figure } from '../figure';
import type { Differences } from '../navigation/range-agreement';
import type { FeedStretch } from '../navigation/source-states';
import type { Stamping } from '../session/stamping';
import type { SourceReference } from './source-reference';

/** Rows of the solution that were missing or not used, as a stretch with its reason. */
export type UnusedStretch = Readonly<{
  /** Rows that are not there, or rows that are there and were not used. */
  kind: 'gap' | 'faulty';
  /** What it is, in words. */
  what: string;
  channel: string | null;
  fromS: number;
  toS: number;
  note: string;
}>;

export type AxisJump = Readonly<{
  /** `x`, `y`, `z`, or `range` where only a range is measured. */
  axis: string;
  positionM: Figure | null;
  velocityMps: Figure | null;
}>;

/**
 * A change of what feeds the solution, a jump of it without one, or both. `isMoved` where samples
 * before it were moved onto those after it, so that no rate runs across.
 */
export type SolutionStep = Readonly<{
  atS: Figure;
  handOver: Readonly<{ from: string; to: string; settlesS: number }> | null;
  axes: readonly AxisJump[];
  isMoved: boolean;
}>;

export type AgreementBand = Readonly<{
  /** null for what is further than the outermost bound. */
  fromM: number | null;
  toM: number;
  biasM: Figure;
  scatterM: Figure;
}>;

/** A range measured beside the solution, against the solution's. `second` less `first`. */
export type RangePair = Readonly<{
  first: string;
  second: string;
  /** What both are between, as declared; null where it is not stated. */
  points: Readonly<{ first: string | null; second: string | null }>;
  count: number;
  independent: number;
  biasM: Figure;
  scatterM: Figure;
  bands: readonly AgreementBand[];
}>;

/** What a source states of a quantity beside what its samples scatter by; half-widths, 95 %. */
export type StatedAgainstScatter = Readonly<{
  source: string;
  channel: string;
  stated: Figure;
  typical: Figure;
  largest: Figure;
}>;

/** What a source is measured by and between; null where it does not say. */
export type SourcePoints = Stamping &
  Readonly<{
    file: string;
    isSolution: boolean;
    sensor: string | null;
    points: string | null;
    leverArmM: readonly number[] | null;
    /** Whether it has a velocity or a range rate at all. */
    measuresVelocity: 'yes' | 'no';
    velocityFrame: 'rotating' | 'inertial' | null;
    /** What its position is of once it is used; absent in older ones. */
    reference?: SourceReference;
  }>;

/**
 * What the rate of a position across the axis and the velocity beside it differ by at the furthest
 * distance. `orbitS` is the orbit whose mean motion would do that, null where none of low height does.
 * `about` is the axis, with its sense, that the axes would turn about were the velocity inertial;
 * `reading` what that says about what session.yaml states.
 */
export type TurningAxes = Readonly<{
  axis: 'y' | 'z';
  differenceMps: Figure;
  distanceM: number;
  orbitS: number | null;
  isDeclared: boolean;
  about: string;
  reading:
    | 'as-stated'
    | 'inertial'
    | 'inertial-by-orbit'
    | 'turned-twice'
    | 'normal-reversed'
    | 'against-orbit'
    | 'other';
}>;

/**
 * The differences that a pair's figures are formed from, a row each; kept beside the derived columns.
 * `first` and `second` name the pair; every `everySample`-th sample of the second is among them.
 */
export type PairDifferences = Differences &
  Readonly<{ first: string; second: string; everySample: number }>;

export type NavigationReport = Readonly<{
  /** The source that the motion is estimated from, and its channels. */
  solution: Readonly<{ file: string; channels: readonly string[] }>;
  /** The column that says what feeds it; null where the session file names none. */
  selector: string | null;
  feeds: readonly FeedStretch[];
  unused: readonly UnusedStretch[];
  steps: readonly SolutionStep[];
  pairs: readonly RangePair[];
  accuracies: readonly StatedAgainstScatter[];
  /** Velocities across the axis that are in other axes than their position. */
  turning: readonly TurningAxes[];
  sources: readonly SourcePoints[];
}>;
