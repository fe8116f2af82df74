/** Spoken ranges and rates beside what was measured, as figures. */
import type { SpokenValue } from '../callouts/find-callouts';
import { pairCallout } from '../callouts/pair-callout';
import { NORMAL_95 } from '../math/statistics';
import { motionAt } from '../motion/sample-motion';
import type { EventSource } from '../session/session-input';
import type { SessionMotion } from './estimated-motion';
import { figureOf, type Origin } from './figure-of';
import { ASSUMED_LAG, type PlacedSource } from './placed-sources';
import type { Callout } from './reconstruction';

/** A log on session time with the values found in its words. */
export type SpokenLog = Readonly<{
  placed: PlacedSource<EventSource>;
  spoken: readonly SpokenValue[];
}>;

/** 95 % half-width of what was measured when it was said: its own noise and the spread of the lag. */
function measuredHalf(
  kind: SpokenValue['kind'],
  atS: number,
  lagSdS: number,
  session: SessionMotion,
): number {
  const { motion } = session;
  if (kind === 'rate') return NORMAL_95 * motionAt(motion, 'closingSdMps', atS);
  const wayM = motionAt(motion, 'closingMps', atS) * lagSdS;
  return NORMAL_95 * Math.hypot(motionAt(motion, 'rangeSdM', atS), wayM);
}

function calloutOf(log: SpokenLog, spoken: SpokenValue, session: SessionMotion | null): Callout {
  const { source, toSession } = log.placed;
  const lag = source.clock.kind === 'callouts' ? source.clock : ASSUMED_LAG;
  const timeS = toSession(spoken.sourceS);
  const none = (): number => Number.NaN;
  const paired = pairCallout(spoken, timeS, {
    lagS: lag.lagS,
    rangeM: session === null ? none : (atS) => motionAt(session.motion, 'rangeM', atS),
    closingRateMps: session === null ? none : (atS) => motionAt(session.motion, 'closingMps', atS),
  });
  const log0 = { file: source.file, sha256: source.sha256 };
  const words: Origin = { sources: [log0], channels: [] };
  const both: Origin = {
    sources: [log0, ...(session?.origin.sources ?? [])],
    channels: session?.origin.channels ?? [],
  };
  const atS = timeS - lag.lagS;
  const unit = spoken.kind === 'range' ? 'm' : 'm/s';
  const random = session === null ? null : measuredHalf(spoken.kind, atS, lag.lagSdS, session);
  const absent = paired.telemetrySi === null ? { reason: 'No telemetry at that moment.' } : {};
  const over = { fromS: atS, toS: atS };
  return {
    timeS,
    kind: spoken.kind,
    said: figureOf(words, {
      value: spoken.valueSi,
      unit,
      random: null,
      method: 'Read from the words.',
      fromS: timeS,
      toS: timeS,
      ...(spoken.reason === null ? {} : { reason: `Doubtful: ${spoken.reason}.` }),
    }),
    telemetry: figureOf(both, {
      value: paired.telemetrySi,
      unit,
      random,
      method: `Estimated ${spoken.kind === 'range' ? 'range' : 'closing rate'} ${lag.lagS} s before the words; the interval holds the spread of that lag.`,
      ...over,
      ...absent,
    }),
    difference: figureOf(both, {
      value: paired.differenceSi,
      unit,
      random,
      method: 'Said minus measured.',
      ...over,
      ...absent,
    }),
    text: spoken.text,
    doubtful: spoken.doubtful,
    source: source.file,
  };
}

/**
 * All spoken values of all logs.
 *
 * @returns in time order
 */
export function calloutFigures(
  logs: readonly SpokenLog[],
  session: SessionMotion | null,
): readonly Callout[] {
  return logs
    .flatMap((log) => log.spoken.map((spoken) => calloutOf(log, spoken, session)))
    .sort((a, b) => a.timeS - b.timeS);
}
