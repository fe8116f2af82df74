/** The approach as places and as deviation from the plan: what its screen shows in figures. */
import type { DeviationPart } from '../approach/plan-deviation';
import type { StationKind } from '../approach/stations';
import type { Figure } from '../figure';

/**
 * One moment of the approach. `of` is the index of the phase that begins there, or the round range
 * passed, m. Where only a range was measured the figures along and across the axis have no value.
 * `corridor` is the tightest one that applies by distance; null, with the clearance, where none does.
 */
export type ApproachStation = Readonly<{
  kind: StationKind;
  of: number | null;
  timeS: Figure;
  rangeM: Figure;
  axialM: Figure;
  yM: Figure;
  zM: Figure;
  lateralM: Figure;
  corridor: Readonly<{ rule: string; radiusM: number }> | null;
  clearanceM: Figure | null;
  closingMps: Figure;
  /** Planned closing rate at that range, m/s; null outside planned moves. */
  plannedMps: number | null;
  /**
   * To first touch, or to the end of a plan that leads away; null without a plan, and by rate where the
   * vehicle does not surely come nearer to it.
   */
  toGoByPlanS: Figure | null;
  toGoByRateS: Figure | null;
}>;

/**
 * Closing rate against the profile between two ranges of a piece of a move. `lateS` is how far the
 * step is behind the plan's clock at the end of it (negative: ahead).
 */
export type ApproachDeviation = Readonly<{
  step: string;
  piece: number;
  part: DeviationPart;
  fromM: number;
  toM: number;
  plannedMps: number;
  meanMps: Figure;
  deviationMps: Figure;
  outsideS: Figure;
  lateS: Figure | null;
}>;

export type ApproachFigures = Readonly<{
  stations: readonly ApproachStation[];
  deviations: readonly ApproachDeviation[];
}>;
