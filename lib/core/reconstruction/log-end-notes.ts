/** Logs that end while the vehicle is still on its way. */
import type { Issue } from '../result';
import type { EventSource, SessionSource } from '../session/session-input';
import { durationText } from '../time/session-time-text';
import type { PlacedSource } from './placed-sources';

/** A log may be silent for as long before contact without being over. Our own choice. */
const LONGEST_SILENCE_S = 60;

function isLog(placed: PlacedSource): placed is PlacedSource<EventSource> {
  const source: SessionSource = placed.source;
  return source.type === 'events';
}

/**
 * Says of each log that it ends before the approach does: what is not in it after that is not known.
 *
 * @param logs the logs on session time
 * @param until instant of contact, or of the last row of motion where there is none, s from zero
 * @returns a warning for each log whose last entry lies more than a minute before
 */
export function logEndNotes(
  logs: readonly PlacedSource[],
  until: Readonly<{ timeS: number; what: 'contact' | 'the telemetry ends' }>,
): readonly Issue[] {
  return logs.filter(isLog).flatMap(({ source, toSession }): Issue[] => {
    const ends = source.entries.map(({ sourceS, sourceEndS }) => toSession(sourceEndS ?? sourceS));
    const lastS = ends.reduce((latest, endS) => Math.max(latest, endS), Number.NEGATIVE_INFINITY);
    const beforeS = until.timeS - lastS;
    if (!Number.isFinite(beforeS) || beforeS <= LONGEST_SILENCE_S) return [];
    return [
      {
        code: 'log-ends-early',
        severity: 'warning',
        file: source.file,
        message: `The log ${source.file} ends ${durationText(beforeS, 0)} before ${until.what}: what was said or logged after that is not known.`,
      },
    ];
  });
}
