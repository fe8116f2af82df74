/** A spoken value beside what was measured when it was said. */
import type { SpokenValue } from './find-callouts';

/** A measured quantity over session time; NaN where there is none (a gap, before the first row). */
export type Sampler = (sessionS: number) => number;

/** What was said and what was measured when it was meant. */
export type PairedCallout = Readonly<{
  spoken: SpokenValue;
  /** What was measured when it was meant, m or m/s; null where nothing was. */
  telemetrySi: number | null;
  /** Said minus measured, m or m/s; null with `telemetrySi`. */
  differenceSi: number | null;
}>;

/**
 * Pairs a spoken value with telemetry.
 *
 * @param spoken a range or a closing rate from `findCallouts`
 * @param meantS session time of what the words mean, s: their own time less the human lag, by a
 *   clock that does not rest on them
 * @param samplers the measured range (m) and closing rate (m/s, positive while closing) over
 *   session time
 */
export function pairCallout(
  spoken: SpokenValue,
  meantS: number,
  samplers: Readonly<{ rangeM: Sampler; closingRateMps: Sampler }>,
): PairedCallout {
  const sampler = spoken.kind === 'range' ? samplers.rangeM : samplers.closingRateMps;
  const measured = sampler(meantS);
  if (!Number.isFinite(measured)) return { spoken, telemetrySi: null, differenceSi: null };
  return { spoken, telemetrySi: measured, differenceSi: spoken.valueSi - measured };
}
