/** What happened from first touch on: the conditions at contact, and the stages of capture with their evidence. */
import type { Figure } from '../figure';
import type { EvidenceKind } from '../sequence/sighting';
import type { CaptureStage } from '../session/capture-plan';

/**
 * Conditions at contact. Keys of `conditions` are the contract's without unit: `closing_rate`,
 * `lateral_offset`, `lateral_rate`, `attitude_error_pitch_yaw`, `attitude_error_roll`,
 * `body_rate_pitch_yaw`, `body_rate_roll`; absent where a channel is.
 */
export type Contact = Readonly<{
  timeS: Figure;
  /** `declared`: a person's word. */
  basis: 'crossing' | 'extrapolated' | 'event' | 'declared';
  /** Who declared it, and what was computed; absent where it was found in the data. */
  set?: Readonly<{ by: string | null; basis: string; computedS: Figure | null }>;
  conditions: Readonly<Record<string, Figure>>;
  /** Why no condition is evaluated; absent where they are. */
  notEvaluated?: string;
  /** How long before contact the last sample under each condition was taken; absent in older ones. */
  ages?: Readonly<Record<string, Figure>>;
}>;

/** One piece of evidence of something that happened. `source` and `line` are null for the motion. */
export type SeenThing = Readonly<{
  kind: EvidenceKind;
  timeS: Figure;
  words: string;
  source: string | null;
  line: number | null;
}>;

/** A stage of capture. `seen` is best evidence first: motion, discrete, written, voice. */
export type CaptureStageResult = Readonly<{
  stage: CaptureStage;
  event: string;
  seen: readonly SeenThing[];
  /** From first touch to it; null without contact, or where it was not seen. */
  afterContactS: Figure | null;
  plannedS: number | null;
  toleranceS: number | null;
  differenceS: Figure | null;
  /** What is wrong with its place in the order; null where nothing is. */
  outOfOrder: string | null;
  /** Why nothing could have shown it, so that it may have happened; absent where it could be seen. */
  notKnown?: string;
}>;

/** From first touch to hard capture. `reason` says why a figure is null. */
export type CaptureReport = Readonly<{
  /** Who told of contact, apart from the motion. */
  reports: readonly SeenThing[];
  /** The best report minus first touch; null where the motion does not show first touch. */
  reportDelayS: Figure | null;
  stages: readonly CaptureStageResult[];
  settling: Readonly<{
    limitMps: number;
    forS: number;
    peakMps: Figure | null;
    reason: string | null;
  }>;
  retraction: Readonly<{ endS: Figure; durationS: Figure; drawnInM: Figure }> | null;
  latches: Readonly<{ planned: number; closed: Figure | null; reason: string | null }>;
}>;
