/** The flown arrival with a log on a clock of its own: who says a range when. */
import type { ClockSpec } from '@/lib/core/clock/clock-spec';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import type { EventSource, LogEntry, SessionInput } from '@/lib/core/session/session-input';
import { flownSession, plannedArrival } from './flown-session';

export const AXIAL = plannedArrival();
export const ALIGNED: ClockSpec = {
  kind: 'callouts',
  lagS: 0.8,
  lagSdS: 0.4,
  lagMeanSdS: 0.1,
  rangeBiasSdM: 1,
};
/** The log's clock is 30 s behind session time. */
export const OFFSET_S = 30;

/** First time at which the true axial distance has come down to a value, s. */
export function passS(valueM: number): number {
  let timeS = 0;
  while (AXIAL(timeS).xM > valueM && timeS < 4000) timeS += 0.05;
  return timeS;
}

/** A line said `lateS` after the range was passed. */
export function saidAt(
  valueM: number,
  { lateS, line }: Readonly<{ lateS: number; line: number }>,
): LogEntry {
  const sourceS = passS(valueM) + lateS - OFFSET_S;
  const text = `Range ${valueM} metres.`;
  return { sourceS, sourceEndS: null, event: null, text, speaker: 'CREW', line };
}

/** The session with `loop.txt` beside its telemetry. */
export function spokenSession(
  entries: readonly LogEntry[],
  clock: ClockSpec,
  clockCorrections: readonly ClockCorrection[] = [],
): SessionInput {
  const log: EventSource = {
    type: 'events',
    file: 'loop.txt',
    sha256: 'b'.repeat(64),
    clock,
    entries,
    rowsRead: entries.length,
    rowsRejected: 0,
  };
  const flown = flownSession({ axial: AXIAL, durationS: 2400 });
  return { ...flown, sources: [...flown.sources, log], clockCorrections };
}
