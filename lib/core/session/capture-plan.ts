/** What a plan says about capture: its stages after first touch, in their order. */

/** The stages of capture in the order in which they follow first touch. */
export const CAPTURE_STAGES = [
  'soft_capture',
  'damping',
  'ring_retraction',
  'hard_capture',
] as const;

export type CaptureStage = (typeof CAPTURE_STAGES)[number];

/** One stage: the event that reports it, and when it is planned; `null` where no time is planned. */
export type PlannedStage = Readonly<{
  stage: CaptureStage;
  /** Name in the `event` column of a log. */
  event: string;
  /** Seconds after first touch. */
  afterContactS: number | null;
  /** Accepted difference to either side, s; `null` where none is stated. */
  toleranceS: number | null;
}>;

/**
 * `settled…` say when the relative motion counts as settled: its speed stays under `settledMps` for
 * `settledForS`. `latches` is how many must close for hard capture, `latchEvent` what a log calls the
 * closing of one.
 */
export type CapturePlan = Readonly<{
  stages: readonly PlannedStage[];
  settledMps: number;
  settledForS: number;
  latches: number;
  latchEvent: string;
}>;

const EVENTS: Readonly<Record<CaptureStage, string>> = {
  soft_capture: 'soft-capture',
  damping: 'motion-damped',
  ring_retraction: 'ring-retraction',
  hard_capture: 'hard-capture',
};

/** A stage where the plan says nothing of it. */
export function unplannedStage(stage: CaptureStage): PlannedStage {
  return { stage, event: EVENTS[stage], afterContactS: null, toleranceS: null };
}

/**
 * What holds where a plan says nothing of capture. The speed and the time of settling are our own
 * choice.
 *
 * Source of twelve latches: IDSS IDD Revision E, 12 pairs of hooks (read in a transcription); the
 * docking ring of the Apollo probe and drogue had twelve as well (NASA, R. D. Langley, "Apollo
 * experience report: the docking system", June 1972, abstract).
 */
export const DEFAULT_CAPTURE: CapturePlan = {
  stages: CAPTURE_STAGES.map(unplannedStage),
  settledMps: 0.005,
  settledForS: 10,
  latches: 12,
  latchEvent: 'latch-closed',
};
