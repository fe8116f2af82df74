/** What people call a kind of motion and a kind of data fault, on screens and in documents alike. */
import type { RunKind } from './flight-course';
import type { FaultKind, Motion, Phase, StepResult } from './reconstruction';

export const MOTION_WORDS: Readonly<Record<Motion, string>> = {
  hold: 'hold',
  closing: 'closing',
  opening: 'back-off',
  crossing: 'crossing',
};

/** Of a run by its place in the flight: an opening is a back-off only where nobody planned it. */
export const RUN_WORDS: Readonly<Record<RunKind, string>> = {
  ...MOTION_WORDS,
  opening: 'opening',
  'back-off': 'back-off',
  'break-off': 'break-off',
};

/** The motion of a run as planned or not: what the plan asks for is no back-off. */
export function motionWord({ motion, step }: Pick<Phase, 'motion' | 'step'>): string {
  return step === null ? MOTION_WORDS[motion] : RUN_WORDS[motion];
}

export const FAULT_WORDS: Readonly<Record<FaultKind, string>> = {
  gap: 'gap',
  frozen: 'frozen',
  saturated: 'saturated',
  spike: 'spike',
  step: 'jump',
  duplicate: 'repeated stamp',
  out_of_order: 'stamp out of order',
  held: 'held values',
  left_out: 'left out by hand',
  rate_disagrees: 'rate against position',
};

/** How a step that was flown ended, in words. */
export function completionOf({
  completed,
  completionUndecided,
}: Pick<StepResult, 'completed' | 'completionUndecided'>) {
  if (completionUndecided === true) return 'completion undecided';
  return completed ? 'completed' : 'not completed';
}
