/** Each axis of the final step: how far it moved about its mean, flown and in the median run. */
import { halfWidth95 } from '../figure';
import type { AxisRatio, ComparisonScore } from './comparison';
import { FEWEST_RUNS, SCORED_QUANTITIES } from './comparison-scores';
import { figureOf } from './figure-of';
import type { ComparedOrigins } from './runs-origin';

/** Quantities that are axes of their own; the lateral offset is made of two, the closing rate of three. */
export const RATIO_AXES = [
  'axial_closing_rate',
  'y',
  'z',
  'attitude_error.roll',
  'attitude_error.pitch',
  'attitude_error.yaw',
];

function verdictOf(ratio: number, score: ComparisonScore): AxisRatio['verdict'] {
  const { isFarForAxis, runs, runsAbove, runsBelow } = score;
  if (!Number.isFinite(ratio) || runs < FEWEST_RUNS) return 'not known';
  if (isFarForAxis) return ratio > 1 ? 'loose' : 'tight';
  return runsAbove === 0 || runsBelow === 0 ? 'beyond' : 'usual';
}

/** The score that is an axis's standard deviation. */
export function axisScoreOf(
  axis: string,
  scores: readonly ComparisonScore[],
): ComparisonScore | undefined {
  const prefix = `${axis.replace('.', '_')}_std_final_`;
  return scores.find(({ name }) => name.startsWith(prefix));
}

/**
 * One entry an axis that flight and runs have: the standard deviation flown over that of the median run,
 * with the interval of both.
 */
export function axisRatios(
  scores: readonly ComparisonScore[],
  { both }: ComparedOrigins,
  completed: 'completed' | 'not completed',
): readonly AxisRatio[] {
  return RATIO_AXES.flatMap((axis): AxisRatio[] => {
    const label = SCORED_QUANTITIES.find(({ name }) => name === axis)?.label ?? axis;
    const score = axisScoreOf(axis, scores);
    if (score === undefined) return [];
    const { flight, simMedian } = score;
    const [flown, simulated] = [flight.value ?? Number.NaN, simMedian.value ?? Number.NaN];
    const ratio = flown / simulated;
    const parts = [
      (halfWidth95(flight) ?? Number.NaN) / flown,
      (halfWidth95(simMedian) ?? Number.NaN) / simulated,
    ];
    return [
      {
        axis,
        label,
        flight,
        simulator: simMedian,
        ratio: figureOf(both, {
          value: ratio,
          unit: '1',
          random: ratio * Math.hypot(...parts),
          method:
            'Standard deviation flown over that of the median run, over the time of the final step; intervals of both, as relative errors added in quadrature.',
        }),
        verdict: completed === 'completed' ? verdictOf(ratio, score) : 'not known',
      },
    ];
  });
}
