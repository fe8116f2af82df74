/** What a strip reads at an instant. */
import { GAP_STEPS } from '../../core/series/faults';
import type { PlanLine } from '../timeline-plan';
import type { StripSeries } from '../timeline-strips';
import { bestColumn, firstAtOrAfter } from './envelope-column';
import type { EnvelopeAnswer } from './envelope-wire';
import type { TimeWindow } from './time-window';

/**
 * What a strip reads at an instant: least and greatest of the pixel there, in the reader's unit. An
 * instant outside the window is read from the finest answer that reaches it, as a rule the coarse one
 * of the whole session.
 */
export type Reading = Readonly<{ low: number; high: number }>;

export function readStripAt(
  answers: readonly EnvelopeAnswer[],
  series: StripSeries,
  at: Readonly<{ tS: number; window: TimeWindow; fromSi: number }>,
): Reading | null {
  if (series.points !== undefined) return readLineAt(series.points, at);
  const isShown = at.tS >= at.window.fromS && at.tS <= at.window.toS;
  const reaching = answers.filter((each) => at.tS >= each.fromS && at.tS <= each.toS);
  const found = isShown
    ? bestColumn(answers, series.key, at.window)
    : bestColumn(reaching, series.key, { fromS: at.tS, toS: at.tS });
  if (found === null) return null;
  const { column, tS, pixelS } = found;
  const reach = Math.max(pixelS, GAP_STEPS * (column.stepS ?? pixelS)) / 2;
  let nearest = -1;
  let distance = Number.POSITIVE_INFINITY;
  for (let index = firstAtOrAfter(tS, at.tS - reach); index < tS.length; index += 1) {
    const time = tS[index] ?? Number.POSITIVE_INFINITY;
    if (time > at.tS + reach) break;
    const away = Math.abs(time - at.tS);
    if (away >= distance || Number.isNaN(column.minimum[index] ?? Number.NaN)) continue;
    distance = away;
    nearest = index;
  }
  if (nearest === -1) return null;
  return {
    low: (column.minimum[nearest] ?? Number.NaN) * at.fromSi,
    high: (column.maximum[nearest] ?? Number.NaN) * at.fromSi,
  };
}

/** Linear between the points of a line beside an instant; null outside and across what is not drawn. */
function readLineAt(
  { tS, values }: PlanLine,
  at: Readonly<{ tS: number; fromSi: number }>,
): Reading | null {
  const next = tS.findIndex((each, index) => each >= at.tS && (tS[index - 1] ?? at.tS) <= at.tS);
  const right = values[next] ?? null;
  if (next === -1 || right === null) return null;
  const leftS = tS[next - 1];
  const left = values[next - 1] ?? null;
  const rightS = tS[next] ?? at.tS;
  if (rightS === at.tS) return { low: right * at.fromSi, high: right * at.fromSi };
  if (leftS === undefined || left === null) return null;
  const value = left + ((at.tS - leftS) / (rightS - leftS)) * (right - left);
  return { low: value * at.fromSi, high: value * at.fromSi };
}

export type NearestSamples = Readonly<{ beforeS: number | null; afterS: number | null }>;

/**
 * Where the samples of some columns lie next to a window that holds none, from the answers at hand: right to
 * a pixel of the whole session.
 */
export function samplesBeside(
  answers: readonly EnvelopeAnswer[],
  keys: readonly string[],
  window: TimeWindow,
): NearestSamples {
  let beforeS = Number.NEGATIVE_INFINITY;
  let afterS = Number.POSITIVE_INFINITY;
  for (const { groups } of answers)
    for (const { tS, columns } of groups)
      for (const { minimum } of columns.filter(({ key }) => keys.includes(key)))
        tS.forEach((at, index) => {
          if (Number.isNaN(minimum[index] ?? Number.NaN)) return;
          if (at < window.fromS) beforeS = Math.max(beforeS, at);
          if (at > window.toS) afterS = Math.min(afterS, at);
        });
  return {
    beforeS: Number.isFinite(beforeS) ? beforeS : null,
    afterS: Number.isFinite(afterS) ? afterS : null,
  };
}
