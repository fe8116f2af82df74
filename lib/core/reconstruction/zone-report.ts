/** When the chaser was inside the zones that the plan declares. */
import type { Figure } from '../figure';

/**
 * One stay inside a zone, s. `enterS` is null where the chaser was inside when the data begin, `leaveS` where
 * it was when they end.
 */
export type ZonePass = Readonly<{
  fromS: number;
  toS: number;
  enterS: Figure | null;
  leaveS: Figure | null;
  insideS: Figure;
}>;

/** `notKnown` says why the passes are not known; absent where they are. */
export type ZoneReport = Readonly<{
  id: string;
  title: string;
  /** Its size in words. */
  shape: string;
  passes: readonly ZonePass[];
  /** Time inside, all passes together; null where they are not known. */
  insideS: Figure | null;
  notKnown?: string;
}>;
