/** A spoken value beside what was measured when it was said. */
import type { SpokenValue } from './find-callouts';

/** A measured quantity over session time; NaN where there is none (a gap, before the first row). */
export type Sampler = (sessionS: number) => number;

/** What was said and what was measured when it was meant. */
export type PairedCallout = Readonly<{
  spoken: SpokenValue;
  /** The cue's start on session time, s, lag not taken off. */
  timeS: number;
  /** What was measured `lagS` before, m or m/s; null where nothing was. */
  telemetrySi: number | null;
  /** Said minus measured, m or m/s; null with `telemetrySi`. */
  differenceSi: number | null;
}>;

/**
 * Pairs a spoken value with telemetry.
 *
 * @param spoken a range or a closing rate from `findCallouts`
 * @param timeS the entry's start on session time, s
 * @param options the human lag (s) that lies between the crossing and the words, and the measured
 *   range (m) and closing rate (m/s, positive while closing) over session time
 */
export function pairCallout(
  spoken: SpokenValue,
  timeS: number,
  options: Readonly<{ lagS: number; rangeM: Sampler; closingRateMps: Sampler }>,
): PairedCallout {
  const sampler = spoken.kind === 'range' ? options.rangeM : options.closingRateMps;
  const measured = sampler(timeS - options.lagS);
  if (!Number.isFinite(measured)) return { spoken, timeS, telemetrySi: null, differenceSi: null };
  return { spoken, timeS, telemetrySi: measured, differenceSi: spoken.valueSi - measured };
}
