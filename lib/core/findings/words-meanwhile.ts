/** The words of a stretch. */
import type { Reconstruction, SessionEvent } from '../reconstruction/reconstruction';

/** What was said or logged from the start to the end of a stretch, both included. */
export function wordsMeanwhile(
  reconstruction: Reconstruction,
  stretch: Readonly<{ fromS: number; toS: number }>,
): readonly SessionEvent[] {
  return reconstruction.events.filter(
    (event) => event.timeS >= stretch.fromS && event.timeS <= stretch.toS,
  );
}
