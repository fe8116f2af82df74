/** What the clock screen shows of a session: its reconstruction, its range, what people said. */
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import type { RangeEnvelope } from '@/lib/view/clock/clock-drawing';
import { type KeptCorrection, loadCorrections } from './load-corrections';
import { loadRangeEnvelope } from './load-range-envelope';
import { loadReconstruction } from './load-reconstruction';
import { loadSessionHeader } from './load-session-header';

export type LoadedClock = Readonly<{
  reconstruction: Reconstruction;
  range: RangeEnvelope | null;
  kept: readonly KeptCorrection[];
}>;

/** @returns null where there is no such session or it was not reconstructed yet */
export async function loadClock(sessionId: string): Promise<LoadedClock | null> {
  const [header, reconstruction] = await Promise.all([
    loadSessionHeader(sessionId),
    loadReconstruction(sessionId),
  ]);
  if (header === null || reconstruction === null) return null;
  const [range, kept] = await Promise.all([
    loadRangeEnvelope(sessionId),
    loadCorrections(sessionId),
  ]);
  return { reconstruction, range, kept };
}
