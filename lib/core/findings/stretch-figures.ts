/** The figures of a stretch of a session. */
import type { Uncertainty } from '../figure';
import { limitsOfRule } from '../session/limit-columns';
import type { CapturedFigure } from './finding';
import { captured, evidenceOf, figureOf, type StretchInput } from './stretch-figure';
import { greatest, interpolate, least, rowsOf, timeMean, valueAt } from './stretch-rows';
import { ruleFigures } from './stretch-rule-figures';
import {
  meanRateUncertainty,
  nearestRangeUncertainty,
  ruleUncertainty,
} from './stretch-uncertainty';

/**
 * The figures of a stretch of a session, as a finding captures them: length, range at both ends,
 * closing rate, largest lateral offset, smallest margin and time beyond of each rule that applied,
 * propellant used.
 *
 * A figure that the data cannot give has `value: null` and says why. Keys begin with `stretch.`.
 *
 * @returns figures in reading order; SI, times in session seconds
 *
 * Valid: `fromS <= toS`. An instant gives the values at it and no rates over time.
 */
export function stretchFigures(input: StretchInput): readonly CapturedFigure[] {
  const figures = [
    durationFigure(input),
    ...rangeFigures(input),
    ...closingRateFigures(input),
    lateralFigure(input),
    ...input.reconstruction.ruleSet.flatMap((rule) => {
      const limits = limitsOfRule(rule);
      return limits === null ? [] : ruleFigures(input, limits);
    }),
    propellantFigure(input),
  ];
  const known = figures.filter((each): each is CapturedFigure => each !== null);
  return input.fromS === input.toS ? atInstant(known) : known;
}

const INSTANT_LABELS: Readonly<Record<string, string>> = {
  'stretch.range_start_m': 'Range',
  'stretch.closing_rate_min_mps': 'Closing rate',
  'stretch.lateral_offset_max_m': 'Lateral offset',
};

/** Of an instant only what has a value there: nothing over time, nothing twice. */
function atInstant(figures: readonly CapturedFigure[]): readonly CapturedFigure[] {
  return figures.flatMap((each) => {
    if (/^stretch\.rules\[.*\]\.margin$/.test(each.key)) return [each];
    const label = INSTANT_LABELS[each.key];
    if (label === undefined) return [];
    const method = 'Estimate at the instant, linear between the two rows beside it.';
    return [{ ...each, label, figure: { ...each.figure, method } }];
  });
}

function durationFigure(input: StretchInput): CapturedFigure {
  return {
    key: 'stretch.duration_s',
    label: 'Length of the stretch',
    figure: figureOf(input, {
      value: input.toS - input.fromS,
      unit: 's',
      uncertainty: { random: 0, systematic: null },
      method: 'End minus start, as chosen by the reviewer.',
      channels: [],
    }),
  };
}

function rangeFigures(input: StretchInput): readonly CapturedFigure[] {
  const edges: readonly (readonly ['start' | 'end', number])[] = [
    ['start', input.fromS],
    ['end', input.toS],
  ];
  const uncertainty = nearestRangeUncertainty(input);
  return edges.map(([edge, tS]) => ({
    key: `stretch.range_${edge}_m`,
    label: `Range at the ${edge}`,
    figure: figureOf(input, {
      value: valueAt(input.derived, 'range', tS),
      unit: 'm',
      uncertainty,
      method:
        'Estimated range, linear between the two rows beside the instant; half-width as at the nearest edge of a phase.',
      channels: ['range'],
      reason: 'There is no row on both sides of this instant, or it lies in a gap.',
    }),
  }));
}

function closingRateFigures(input: StretchInput): readonly CapturedFigure[] {
  const rows = rowsOf(input, 'closing_rate');
  const mean = timeMean(rows, (value) => value);
  const square = timeMean(rows, (value) => value * value);
  const extremes: Uncertainty | null = ruleUncertainty(input, 'closing_rate');
  const reason = 'No closing rate was measured in this stretch.';
  const common = { unit: 'm/s', channels: ['closing_rate'], reason };
  return [
    captured('stretch.closing_rate_min_mps', 'Closing rate, least', {
      ...common,
      value: least(rows.values),
      uncertainty: extremes,
      method: 'Smallest estimated closing rate at a row of the stretch; negative is opening.',
    }),
    captured('stretch.closing_rate_mean_mps', 'Closing rate, mean', {
      ...common,
      value: mean,
      uncertainty: meanRateUncertainty(input),
      method: 'Mean over time by the trapezoid rule, without gaps.',
    }),
    captured('stretch.closing_rate_max_mps', 'Closing rate, greatest', {
      ...common,
      value: greatest(rows.values),
      uncertainty: extremes,
      method: 'Largest estimated closing rate at a row of the stretch.',
    }),
    captured('stretch.closing_rate_rms_mps', 'Closing rate, rms', {
      ...common,
      value: square === null ? null : Math.sqrt(square),
      uncertainty: extremes,
      method: 'Root of the mean square over time by the trapezoid rule, without gaps.',
    }),
  ].map((each) => ({ ...each, figure: figureOf(input, each.figure) }));
}

function lateralFigure(input: StretchInput): CapturedFigure | null {
  if (!input.derived.columns.some((column) => column.name === 'lateral_offset')) return null;
  return {
    key: 'stretch.lateral_offset_max_m',
    label: 'Lateral offset, largest',
    figure: figureOf(input, {
      value: greatest(rowsOf(input, 'lateral_offset').values),
      unit: 'm',
      uncertainty: ruleUncertainty(input, 'lateral_offset'),
      method: 'Largest distance from the docking axis at a row of the stretch.',
      channels: ['lateral_offset'],
      reason: 'No position was measured in this stretch.',
    }),
  };
}

function propellantFigure(input: StretchInput): CapturedFigure | null {
  const tank = input.channels.find((channel) => channel.as === 'propellant_mass');
  if (tank === undefined) return null;
  const at = (tS: number): number | null => interpolate(tank.tS, tank.values, tS);
  const before = at(input.fromS);
  const after = at(input.toS);
  return {
    key: 'stretch.propellant_used_kg',
    label: 'Propellant used',
    figure: {
      value: before === null || after === null ? null : before - after,
      unit: 'kg',
      uncertainty: null,
      method: 'Propellant mass at the start minus at the end, linear between samples.',
      evidence: evidenceOf(input, [tank.name], [tank.source]),
      ...(before === null || after === null
        ? { reason: 'The channel has no sample at both ends of the stretch.' }
        : {}),
    },
  };
}
