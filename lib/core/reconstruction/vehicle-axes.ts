/** What reconstructions say about the vehicle itself, axis by axis. */

import { halfWidth95 } from '../figure';
import { median } from '../math/statistics';
import { axisScoreOf, RATIO_AXES } from './axis-ratios';
import type { ComparisonScore, RunGroup, RunScores, VehicleAxis } from './comparison';
import { SCORE_NAMES, SCORED_QUANTITIES } from './comparison-scores';
import { figureOf } from './figure-of';
import type { ComparedOrigins } from './runs-origin';

/** The ratio's interval must lie beyond this to call the vehicle looser. Our own choice. */
const LEAST_LOOSER = 1.25;

function verdictOf(ratio: number, half: number): VehicleAxis['verdict'] {
  if (!Number.isFinite(ratio) || !Number.isFinite(half)) return 'not claimed';
  if (ratio - half > LEAST_LOOSER) return 'looser';
  return ratio + half < 1 / LEAST_LOOSER ? 'tighter' : 'as simulated';
}

/**
 * The standard deviation flown over the median of the reconstructions that have it. A reconstruction
 * differs from the flight in the vehicle alone, if nothing else differs; then, and only then, a
 * verdict is given.
 */
export function vehicleAxes(
  scores: readonly ComparisonScore[],
  runs: readonly RunScores[],
  { groups, origins }: Readonly<{ groups: readonly RunGroup[]; origins: ComparedOrigins }>,
): readonly VehicleAxis[] {
  const rebuilt = groups.filter(({ basis }) => basis === 'reconstruction');
  const names = new Set(rebuilt.flatMap((group) => group.names));
  const isAlike = rebuilt.every(
    ({ differs, unstated }) => differs.length === 0 && unstated.length === 0,
  );
  if (names.size === 0) return [];
  return RATIO_AXES.flatMap((axis): VehicleAxis[] => {
    const score = axisScoreOf(axis, scores);
    if (score === undefined) return [];
    const place = SCORE_NAMES.findIndex(({ name }) => name === score.name);
    const values = runs.flatMap((run) => (names.has(run.name) ? (run.scores[place] ?? []) : []));
    const simulated = median(Float64Array.from(values));
    const flown = score.flight.value ?? Number.NaN;
    const ratio = flown / simulated;
    const half = (ratio * (halfWidth95(score.flight) ?? Number.NaN)) / flown;
    return [
      {
        axis,
        label: SCORED_QUANTITIES.find(({ name }) => name === axis)?.label ?? axis,
        ratio: figureOf(origins.both, {
          value: ratio,
          unit: '1',
          random: half,
          method: `Standard deviation flown over the median of ${values.length} reconstructions, over the time of the final step; interval of the flight’s alone.`,
        }),
        verdict: isAlike ? verdictOf(ratio, half) : 'not claimed',
      },
    ];
  });
}
