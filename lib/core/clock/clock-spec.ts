/** How a source's own time is put onto session time (key `clock` of session.yaml). */
import type { HumanLag } from './clock-solution';

/**
 * Given terms, tie points, or spoken ranges with the human lag and the spread (1 sd, m) of what is
 * said of the same range from another point.
 */
export type ClockSpec =
  | Readonly<{ kind: 'given'; offsetS: number; driftPpm: number }>
  | Readonly<{
      kind: 'tie-points';
      points: readonly (readonly [sourceS: number, sessionS: number])[];
    }>
  | (Readonly<{ kind: 'callouts'; rangeBiasSdM: number }> & HumanLag);
