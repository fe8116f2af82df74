/** What people call a kind of motion and a kind of data fault, on screens and in documents alike. */
import type { FaultKind, Motion } from './reconstruction';

export const MOTION_WORDS: Readonly<Record<Motion, string>> = {
  hold: 'hold',
  closing: 'closing',
  opening: 'back-off',
  crossing: 'crossing',
};

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
