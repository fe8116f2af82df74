/** A source whose times lie so far from zero that zero, the stamps or the clock may be mistyped. */
import type { ClockSpec } from '../clock/clock-spec';
import type { Issue } from '../result';

const DAY_S = 86_400;

/** Beyond this an approach is not about the same days as its zero (common practice, no source). */
const FAR_S = 30 * DAY_S;

/**
 * @param fromS first and `toS` last time of the source on its own clock, s from zero
 * @returns a warning; null where the source lies near zero, or where tie points or spoken ranges put
 *   it there
 */
export function farFromZeroIssue(
  file: string,
  clock: ClockSpec,
  { fromS, toS }: Readonly<{ fromS: number; toS: number }>,
): Issue | null {
  if (clock.kind !== 'given') return null;
  const days = [fromS, toS].map((sourceS) => {
    const sessionS = clock.offsetS + sourceS * (1 + clock.driftPpm * 1e-6);
    return Math.abs(sessionS) > FAR_S ? sessionS / DAY_S : 0;
  });
  const farthest = days.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
  if (farthest === 0) return null;
  const side = farthest > 0 ? 'after' : 'before';
  const text = `${Math.round(Math.abs(farthest))} days ${side} zero`;
  return {
    code: 'far-from-zero',
    severity: 'warning',
    file,
    message: `has times ${text}; check zero, the stamps (year, code, scale) and the clock`,
    expected: `times within ${FAR_S / DAY_S} days of zero`,
    received: text,
  };
}
