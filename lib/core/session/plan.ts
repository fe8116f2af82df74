/** The plan of an approach, in SI: what the plan file (`plan.yaml`) says once it has been read. */

import type { CapturePlan } from './capture-plan';
import type { ContactLimitTable } from './contact-limit-table';
import type { Zone } from './zone';

/** Points of a profile over range: `[rangeM, value]`, linear between points, held outside them. */
export type RangeProfile = readonly (readonly [rangeM: number, value: number])[];

/** A planned hold: station-keeping at `holdM`, accepted within `toleranceM`. */
export type HoldStep = Readonly<{
  kind: 'hold';
  id: string;
  holdM: number;
  toleranceM: number;
  plannedS: number;
}>;

/** A planned move to `toM` along a closing-rate profile (m/s over range, positive while closing). */
export type MoveStep = Readonly<{
  kind: 'move';
  id: string;
  toM: number;
  plannedS: number;
  closingRateMps: RangeProfile;
  toleranceMps: number;
}>;

export type PlanStep = HoldStep | MoveStep;

export type Plan = Readonly<{
  title: string;
  holdRateMps: number;
  holdDwellS: number;
  holdCrossSpeedMps: number | null;
  accelerationMps2: number;
  contactAxialM: number;
  steps: readonly PlanStep[];
  /** Limits at contact of the mechanism flown; absent: the docking standard's. */
  contactLimits?: ContactLimitTable;
  /** Zones about the target point; absent where the plan names none. */
  zones?: readonly Zone[];
  /** Stages of capture; absent where the plan says nothing of them. */
  capture?: CapturePlan;
}>;
