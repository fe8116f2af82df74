/** The clock that a session file states: given, or from tie points. */
import type { ClockSolution } from './clock-solution';
import type { ClockSpec } from './clock-spec';
import { fitLine, student975, type TiePoint } from './fit-line';
import { clockFromFit } from './solve-clock';

/** What a clock says about itself where nothing was fitted. */
function stated(
  offsetS: number,
  driftPpm: number,
  used: number,
  reason: string | null,
): ClockSolution {
  return {
    offsetS,
    offsetUncertaintyS: null,
    driftPpm,
    driftUncertaintyPpm: null,
    residualRmsS: null,
    used,
    rejected: 0,
    reason,
  };
}

function clockFromTiePoints(points: readonly TiePoint[]): ClockSolution {
  const fit = fitLine(points);
  if (points.length < 2) {
    return stated(fit.meanOffsetS, 0, points.length, 'one tie point gives an offset only');
  }
  if (points.length === 2) {
    const reason = 'two tie points leave nothing over to tell an uncertainty by';
    return { ...stated(fit.offsetS, fit.drift * 1e6, 2, reason), residualRmsS: 0 };
  }
  const degrees = points.length - 2;
  const pointS = Math.sqrt(fit.sumSquaresS2 / degrees);
  return clockFromFit(fit, { pointS, factor: student975(degrees), commonS: 0 }, 0);
}

/**
 * The clock of a source whose session file gives offset and drift, or tie points.
 *
 * Tie points: least squares, every point counts. One gives the offset only; two fix offset and
 * drift without an uncertainty; from three on the uncertainties come from the residuals, by
 * Student's t.
 *
 * @param spec the clock stated; `callouts` is found elsewhere, from the words (`alignClock`)
 * @returns the clock with its uncertainties; null where none can be told
 */
export function resolveClock(spec: Exclude<ClockSpec, { kind: 'callouts' }>): ClockSolution {
  if (spec.kind === 'given') return stated(spec.offsetS, spec.driftPpm, 0, null);
  return clockFromTiePoints(spec.points);
}
