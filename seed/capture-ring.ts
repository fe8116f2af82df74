/** After first touch: the capture ring as springs and dampers, then its retraction. */
import type { PortState, Push } from './orbit-motion';

/** Times after contact, s. */
export const SOFT_CAPTURE_AFTER_S = 4.6;
export const DAMPED_AFTER_S = 150;
export const RETRACTION_AFTER_S = 178;
export const RETRACTED_AFTER_S = 326;
export const HARD_CAPTURE_AFTER_S = 402;
export const END_AFTER_S = 460;

/** Distance between the ports at which the ring rests once it has caught, m. */
const REST_M = 0.2;

/** Push of the ring on the vehicle, m/s2. */
export function ringPush(state: PortState, afterContactS: number): Push {
  const share = (afterContactS - RETRACTION_AFTER_S) / (RETRACTED_AFTER_S - RETRACTION_AFTER_S);
  const restM = REST_M * (1 - Math.min(Math.max(share, 0), 1));
  return {
    xMps2: -0.35 * (state.xM - restM) - 0.5 * state.vxMps,
    yMps2: -0.1 * state.yM - 0.4 * state.vyMps,
    zMps2: -0.1 * state.zM - 0.4 * state.vzMps,
  };
}
