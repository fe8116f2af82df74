/** Motion of the invented sample session, a row a second. */
import type { DerivedColumns } from '@/lib/core/reconstruction/reconstruction';
import { DEG } from './sample-figure';

/** Range by the phases, linear inside each: enough for a line on a strip. */
function rangeAt(tS: number): number {
  const points: readonly (readonly [number, number])[] = [
    [0, 100.02],
    [118.4, 99.98],
    [338.2, 45.9],
    [402.7, 45.9],
    [451.9, 52.1],
    [612, 12],
    [796.3, 0.03],
    [930.2, 0.03],
  ];
  for (const [index, [endS, endM]] of points.entries()) {
    const before = points[index - 1];
    if (before === undefined || tS > endS) continue;
    return before[1] + ((tS - before[0]) / (endS - before[0])) * (endM - before[1]);
  }
  return 0.03;
}

function closingRateAt(tS: number): number {
  if (tS >= 200 && tS <= 203.8) return 0.41;
  if (tS >= 700 && tS <= 702.9) return 0.136;
  return rangeAt(tS - 0.5) - rangeAt(tS + 0.5);
}

const ROWS = 931;
const tS = Float64Array.from({ length: ROWS }, (_, row) => row);
const inGap = (t: number): boolean => t > 260 && t < 285;
const column = (name: string, label: string, unit: string, at: (t: number) => number) => ({
  name,
  label,
  unit,
  values: tS.map((t) => (inGap(t) ? Number.NaN : at(t))),
});
const across = (t: number): number => 0.02 * Math.sin(t / 40) + (t > 338 && t < 403 ? 2.3 : 0);

/** One row a second over the whole session; NaN inside the gap and after contact where not evaluated. */
export const sampleDerived: DerivedColumns = {
  tS,
  columns: [
    column('range', 'Range', 'm', rangeAt),
    column('closing_rate', 'Closing rate', 'm/s', closingRateAt),
    column('axial_distance', 'Axial distance', 'm', rangeAt),
    column('axial_closing_rate', 'Axial closing rate', 'm/s', closingRateAt),
    column('lateral_offset', 'Lateral offset', 'm', (t) => Math.abs(across(t))),
    column('planned_closing_rate', 'Planned closing rate', 'm/s', (t) =>
      t < 118.4 || t > 796.3 ? Number.NaN : rangeAt(t) > 20 ? 0.25 : 0.07,
    ),
    column('limit.closing-rate', 'Limit of closing-rate', 'm/s', (t) =>
      t > 796.3 ? Number.NaN : rangeAt(t) < 12 ? 0.1 : 0.3 + (rangeAt(t) - 14) * (0.1 / 286),
    ),
    column('limit.corridor', 'Limit of corridor', 'm', (t) =>
      rangeAt(t) < 1.5 || rangeAt(t) > 80
        ? Number.NaN
        : Math.max(0.25, rangeAt(t) * Math.tan(3 * DEG)),
    ),
  ],
};
