/** Numbers of a whole final step, the flight's beside those of the runs. */
import { spreadOverTime, type TimeSpread } from '../compare/time-spread';
import {
  beyondFarthest,
  farAgain,
  oneSidedChance,
  type QuantileInterval,
  quantileInterval,
  rankAmong,
} from '../math/order-statistics';
import { median, NORMAL_95 } from '../math/statistics';
import type { EstimatedQuantity } from '../rules/rule-context';
import { COMPARED_QUANTITIES, type ComparedName } from './compared-names';
import type { ComparisonScore } from './comparison';
import { figureOf } from './figure-of';
import type { FinalStep } from './final-step';
import type { ComparedOrigins } from './runs-origin';

type Statistic = 'mean' | 'sd' | 'peak';

const STATISTICS: readonly Readonly<{ of: Statistic; key: string; label: string; how: string }>[] =
  [
    { of: 'mean', key: 'mean', label: 'mean', how: 'Mean over the time of the final step' },
    {
      of: 'sd',
      key: 'std',
      label: 'standard deviation',
      how: 'Population standard deviation over the time of the final step',
    },
    {
      of: 'peak',
      key: 'peak',
      label: 'largest size',
      how: 'Largest size in the final step',
    },
  ];

/** The unit as a key ends in it, in which the plain file gives the number. */
const KEY_ENDINGS: Readonly<Record<string, string>> = {
  m: 'm',
  'm/s': 'mps',
  rad: 'deg',
  'rad/s': 'dps',
};

/** One score of a run: its value and, where it can be told, the 95 % half-width of it. */
export type Score = Readonly<{ value: number; half: number | null; systematic: number | null }>;

export type ScoreName = Readonly<{ name: string; label: string; unit: string; how: string }>;

/** A step's scores by name; a name is missing where the quantity is. */
export type ScoredStep = ReadonlyMap<string, Score>;

/**
 * The closing rate is along the line to the port: near it, motion across leaks into it. The rate along the
 * axis is the one that belongs to the axis.
 */
export const SCORED_QUANTITIES: readonly ComparedName[] = [
  ...COMPARED_QUANTITIES,
  { name: 'axial_closing_rate', label: 'Axial closing rate', unit: 'm/s' },
];

/** Names of all scores, in the order in which they are shown. */
export const SCORE_NAMES: readonly ScoreName[] = [
  {
    name: 'final_duration_s',
    label: 'Duration of the final step',
    unit: 's',
    how: 'From the start of its first piece to the end of its last',
  },
  ...SCORED_QUANTITIES.flatMap(({ name, label, unit }) =>
    STATISTICS.map((statistic) => ({
      name: `${name.replace('.', '_')}_${statistic.key}_final_${KEY_ENDINGS[unit] ?? unit}`,
      label: `${label}, ${statistic.label}`,
      unit,
      how: statistic.how,
    })),
  ),
];

function medianSd({ tS, sd, noise }: EstimatedQuantity, step: FinalStep): number {
  if (noise === 'unknown') return Number.NaN;
  return median(
    sd.filter((_, row) => {
      const atS = tS[row] ?? Number.NaN;
      return atS >= step.startS && atS <= step.endS;
    }),
  );
}

/**
 * What the noise of the estimate does to each statistic, 95 %: to mean and deviation as the mean of as
 * many independent errors as fit into the time, to the deviation by its own variance besides; to the
 * peak as one error.
 */
function halfWidths(spread: TimeSpread, quantity: EstimatedQuantity, step: FinalStep) {
  const sd = medianSd(quantity, step);
  const independent = Math.max(1, spread.durationS / Math.max(quantity.spanS, 1e-9));
  const ofMean = (NORMAL_95 * sd) / Math.sqrt(independent);
  const added = spread.sd > sd ? spread.sd - Math.sqrt(spread.sd ** 2 - sd ** 2) : spread.sd;
  return { mean: ofMean, sd: Math.hypot(ofMean, added), peak: NORMAL_95 * sd };
}

/** Scores of one final step, flown or simulated. */
export function scoresOf(step: FinalStep): ScoredStep {
  const scores = new Map<string, Score>();
  scores.set('final_duration_s', {
    value: step.endS - step.startS,
    half: step.durationHalfS,
    systematic: null,
  });
  let next = 1;
  for (const { name } of SCORED_QUANTITIES) {
    const names = SCORE_NAMES.slice(next, next + STATISTICS.length);
    next += STATISTICS.length;
    const quantity = step.quantity(name);
    if (quantity === null) continue;
    const column = { tS: quantity.tS, values: quantity.value, spans: quantity.stretches };
    const spread = spreadOverTime(column, step.startS, step.endS);
    if (spread.durationS === 0) continue;
    const halves = halfWidths(spread, quantity, step);
    STATISTICS.forEach(({ of }, index) => {
      const half = halves[of];
      scores.set(names[index]?.name ?? '', {
        value: of === 'peak' ? Math.abs(spread.peak) : spread[of],
        half: Number.isNaN(half) ? null : half,
        // A bias that all samples share leaves the deviation as it is.
        systematic: of === 'sd' ? null : quantity.systematic,
      });
    });
  }
  return scores;
}

/** Fewer runs say too little about where their population ends. Our own choice. */
export const FEWEST_RUNS = 20;

/** The larger way to a bound, so that both are inside; null where one is missing. */
export function halfBetween({ value, low, high }: QuantileInterval): number | null {
  return low === null || high === null ? null : Math.max(high - value, value - low);
}

/**
 * Each score of the flight beside the runs': median and 95th percentile (linear, type 7), rank, and the
 * chance of lying so far out. Scores that the flight or all runs lack are left out.
 */
export function compareScores(
  flight: ScoredStep,
  runs: readonly ScoredStep[],
  { origins, step }: Readonly<{ origins: ComparedOrigins; step: FinalStep }>,
): readonly ComparisonScore[] {
  const stretch = { fromS: step.startS, toS: step.endS };
  return SCORE_NAMES.flatMap(({ name, label, unit, how }): ComparisonScore[] => {
    const own = flight.get(name);
    const among = Float64Array.from(runs, (run) => run.get(name)?.value ?? Number.NaN)
      .filter((value) => !Number.isNaN(value))
      .sort();
    if (own === undefined || among.length === 0) return [];
    const rank = rankAmong(own.value, among);
    const middle = quantileInterval(among, 0.5);
    const upper = quantileInterval(among, 0.95);
    const beyond = beyondFarthest(own.value, among);
    const ofRuns = `${how}, of each of ${among.length} runs`;
    const figure = (value: number, random: number | null, method: string) =>
      figureOf(origins.runs, { value, unit, random, method });
    return [
      {
        name,
        label,
        unit,
        flight: figureOf(origins.flight, {
          value: own.value,
          unit,
          random: own.half,
          systematic: own.systematic,
          method: `${how}.`,
          ...stretch,
        }),
        simMedian: figure(
          middle.value,
          halfBetween(middle),
          `${ofRuns}; median, with bounds from order statistics.`,
        ),
        simP95: figure(
          upper.value,
          halfBetween(upper),
          `${ofRuns}; 95th percentile (linear, type 7), with bounds from order statistics where the runs suffice.`,
        ),
        p95Supported: upper.high !== null,
        runs: rank.runs,
        rank: figureOf(origins.both, {
          value: rank.below,
          unit: '1',
          random: null,
          method: `${how}; runs strictly below the flight, of ${rank.runs} that have it.`,
        }),
        runsBelow: rank.below,
        runsAbove: rank.above,
        chance: oneSidedChance(rank),
        standsOut: among.length >= FEWEST_RUNS && beyond > farAgain(among.length),
        isFarForAxis: among.length >= FEWEST_RUNS && beyond > farAgain(among.length, 'axis'),
      },
    ];
  });
}
