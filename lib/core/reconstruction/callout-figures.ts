/** Spoken ranges and rates beside what was measured, as figures. */
import { pairCallout } from '../callouts/pair-callout';
import type { ReviewedValue } from '../callouts/review-callouts';
import type { ClockSolution } from '../clock/clock-solution';
import { toSessionSeconds } from '../clock/clock-terms';
import type { ClockTie } from '../clock/clock-tie';
import { NORMAL_95 } from '../math/statistics';
import { motionAt } from '../motion/sample-motion';
import { DEFAULT_ALIGNMENT } from '../session/read-time-spec';
import type { EventSource } from '../session/session-input';
import type { SessionMotion } from './estimated-motion';
import { figureOf, type Origin } from './figure-of';
import type { PlacedSource } from './placed-sources';
import type { Callout } from './reconstruction';

/** A log on session time with the values found in its words. */
export type SpokenLog = Readonly<{
  placed: PlacedSource<EventSource>;
  spoken: readonly ReviewedValue[];
}>;

/** When a value was meant, by a clock that does not rest on it. */
type Meant = Readonly<{
  /** Session time of the words; null where only these words tell the clock. */
  timeS: number | null;
  /** Standard deviation of the clock there, s. */
  sdS: number;
  /** True where the clock was found again without these words. */
  isLeftOut: boolean;
}>;

/** The time of a value on session time: a callout never proves itself. */
function meantTime(
  solution: ClockSolution,
  spoken: ReviewedValue,
  tie: ClockTie | undefined,
): Meant {
  if (tie === undefined) {
    const sdS = (solution.offsetUncertaintyS ?? 0) / NORMAL_95;
    return { timeS: toSessionSeconds(solution, spoken.sourceS), sdS, isLeftOut: false };
  }
  if (tie.without === null) return { timeS: null, sdS: 0, isLeftOut: true };
  const timeS = toSessionSeconds(tie.without, spoken.sourceS);
  return { timeS, sdS: tie.withoutSdS ?? 0, isLeftOut: true };
}

/** 95 % half-width of what was measured when it was meant: its own noise, the lag's and the clock's. */
function measuredHalf(
  kind: ReviewedValue['kind'],
  atS: number,
  timeSdS: number,
  { motion }: SessionMotion,
): number {
  if (kind === 'rate') return NORMAL_95 * motionAt(motion, 'closingSdMps', atS);
  const wayM = motionAt(motion, 'closingMps', atS) * timeSdS;
  return NORMAL_95 * Math.hypot(motionAt(motion, 'rangeSdM', atS), wayM);
}

function absence(meant: Meant, telemetrySi: number | null): Readonly<{ reason?: string }> {
  if (meant.timeS === null) {
    return { reason: "Only these words tell the log's clock, so they cannot be held against it." };
  }
  return telemetrySi === null ? { reason: 'No telemetry at that moment.' } : {};
}

type MeasuredSide = Pick<Callout, 'telemetry' | 'difference'>;

/** The measured side of a callout. */
function measuredSide(
  spoken: ReviewedValue,
  meant: Meant,
  session: SessionMotion | null,
  log: Readonly<{ both: Origin; lagS: number; lagSdS: number }>,
): MeasuredSide {
  const none = (): number => Number.NaN;
  const atS = (meant.timeS ?? Number.NaN) - log.lagS;
  const { telemetrySi, differenceSi } = pairCallout(spoken, atS, {
    rangeM: session === null ? none : (timeS) => motionAt(session.motion, 'rangeM', timeS),
    closingRateMps:
      session === null ? none : (timeS) => motionAt(session.motion, 'closingMps', timeS),
  });
  const timeSdS = Math.hypot(log.lagSdS, meant.sdS);
  const shared = {
    unit: spoken.kind === 'range' ? 'm' : 'm/s',
    random: session === null ? null : measuredHalf(spoken.kind, atS, timeSdS, session),
    fromS: atS,
    toS: atS,
    ...absence(meant, telemetrySi),
  };
  const without = meant.isLeftOut ? " by the log's clock without these words" : '';
  return {
    telemetry: figureOf(log.both, {
      ...shared,
      value: telemetrySi,
      method: `Estimated ${spoken.kind === 'range' ? 'range' : 'closing rate'} ${log.lagS} s before the words${without}; the interval holds the spread of that lag and of the clock.`,
    }),
    difference: figureOf(log.both, {
      ...shared,
      value: differenceSi,
      method: `Said minus measured${without}.`,
    }),
  };
}

/** A spoken value of a log; `tie` is undefined where the clock does not rest on it. */
type Spoken = Readonly<{ log: SpokenLog; spoken: ReviewedValue; tie: ClockTie | undefined }>;

function calloutOf({ log, spoken, tie }: Spoken, session: SessionMotion | null): Callout {
  const { source, solution, toSession } = log.placed;
  const { lagS, lagSdS } = source.clock.kind === 'callouts' ? source.clock : DEFAULT_ALIGNMENT;
  const timeS = toSession(spoken.sourceS);
  const file = { file: source.file, sha256: source.sha256 };
  const both: Origin = {
    ...(session?.origin ?? { channels: [] }),
    sources: [file, ...(session?.origin.sources ?? [])],
  };
  const said = figureOf(
    { sources: [file], channels: [] },
    {
      value: spoken.valueSi,
      unit: spoken.kind === 'range' ? 'm' : 'm/s',
      random: null,
      method: spoken.review === 'corrected' ? 'As a person heard it.' : 'Read from the words.',
      fromS: timeS,
      toS: timeS,
      ...(spoken.reason === null ? {} : { reason: `Doubtful: ${spoken.reason}.` }),
    },
  );
  const meant = meantTime(solution, spoken, tie);
  const { kind, text, doubtful, line, nth, review } = spoken;
  const measured = measuredSide(spoken, meant, session, { both, lagS, lagSdS });
  return { timeS, kind, said, ...measured, text, doubtful, source: source.file, line, nth, review };
}

/** Callouts of one log, each with the tie point it made where the clock rests on it. */
function calloutsOf(log: SpokenLog, session: SessionMotion | null): readonly Callout[] {
  const ties = new Map<number, ClockTie>();
  for (const tie of log.placed.solution.evidence?.ties ?? []) {
    if (tie.used && tie.spokenIndex !== null) ties.set(tie.spokenIndex, tie);
  }
  return log.spoken.map((spoken, index) =>
    calloutOf({ log, spoken, tie: ties.get(index) }, session),
  );
}

/**
 * All spoken values of all logs.
 *
 * Each is held against the telemetry by its log's clock without itself (leave one out), so that a
 * callout never proves itself; `timeS` is by the clock of all.
 *
 * @returns in time order
 */
export function calloutFigures(
  logs: readonly SpokenLog[],
  session: SessionMotion | null,
): readonly Callout[] {
  return logs.flatMap((log) => calloutsOf(log, session)).sort((a, b) => a.timeS - b.timeS);
}
