import type { Evidence, Figure, Uncertainty } from '../figure';
import type {
  DerivedColumns,
  Reconstruction,
  SessionEvent,
} from '../reconstruction/reconstruction';
import { referenceWords } from '../reconstruction/source-reference';
import { limitsOfRule, type RuleLimits } from '../session/limit-columns';
import { nameFromId } from '../session/name-from-id';
import type { CapturedFigure } from './finding';
import {
  type ChannelSamples,
  greatest,
  interpolate,
  least,
  rowsOf,
  siUnitOf,
  timeMean,
  valueAt,
} from './stretch-rows';

export type StretchInput = Readonly<{
  reconstruction: Reconstruction;
  /** All rows of the stretch; rows outside it are left out here. */
  derived: DerivedColumns;
  /** Channels beside the derived columns, where the session has them. */
  channels: readonly ChannelSamples[];
  fromS: number;
  toS: number;
}>;

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

/** What was said or logged from the start to the end of a stretch, both included. */
export function wordsMeanwhile(
  reconstruction: Reconstruction,
  stretch: Readonly<{ fromS: number; toS: number }>,
): readonly SessionEvent[] {
  return reconstruction.events.filter(
    (event) => event.timeS >= stretch.fromS && event.timeS <= stretch.toS,
  );
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

/** Margin and time beyond, for a rule that applied somewhere in the stretch. */
function ruleFigures(
  input: StretchInput,
  { rule, quantity, lines }: RuleLimits,
): readonly CapturedFigure[] {
  const rows = rowsOf(input, quantity);
  let smallest = Number.POSITIVE_INFINITY;
  rows.tS.forEach((tS, index) => {
    const value = rows.values[index];
    if (value === undefined) return;
    for (const { column, side } of lines) {
      const limit = valueAt(input.derived, column, tS);
      if (limit === null) continue;
      smallest = Math.min(smallest, side === 'upper' ? limit - value : value - limit);
    }
  });
  if (smallest === Number.POSITIVE_INFINITY) return [];
  const result = input.reconstruction.rules.find((each) => each.id === rule.id);
  const figures: CapturedFigure[] = [
    {
      key: `stretch.rules[${rule.id}].margin`,
      label: `${nameFromId(rule.id)}, smallest margin`,
      figure: figureOf(input, {
        value: smallest,
        unit: siUnitOf(input, quantity),
        uncertainty: result?.instantMargin?.uncertainty ?? null,
        method:
          'Smallest room to the limit at a row of the stretch where the rule applies, without persistence; half-width as of the rule’s own margin.',
        channels: [quantity, ...lines.map(({ column }) => column)],
      }),
    },
  ];
  const beyond = input.reconstruction.exceedances
    .filter((each) => each.rule === rule.id)
    .map((each) => overlapS(input, each.startS.value, each.endS.value))
    .filter((seconds) => seconds > 0);
  const edges = input.reconstruction.exceedances
    .filter(
      (each) => each.rule === rule.id && overlapS(input, each.startS.value, each.endS.value) > 0,
    )
    .flatMap((each) => [each.startS, each.endS])
    .filter((edge) => edge.value !== null && edge.value >= input.fromS && edge.value <= input.toS);
  if (beyond.length > 0)
    figures.push({
      key: `stretch.rules[${rule.id}].beyond_s`,
      label: `${nameFromId(rule.id)}, time beyond`,
      figure: figureOf(input, {
        value: beyond.reduce((sum, seconds) => sum + seconds, 0),
        unit: 's',
        uncertainty: quadrature(edges),
        method: `${beyond.length} of the session’s stretches beyond this limit, the parts inside this one added.`,
        channels: [quantity],
      }),
    });
  return figures;
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

type FigureParts = Readonly<{
  value: number | null;
  unit: string;
  uncertainty: Uncertainty | null;
  method: string;
  channels: readonly string[];
  reason?: string;
}>;

function captured(
  key: string,
  label: string,
  parts: FigureParts,
): Readonly<{ key: string; label: string; figure: FigureParts }> {
  return { key, label, figure: parts };
}

function figureOf(input: StretchInput, parts: FigureParts): Figure {
  return {
    value: parts.value,
    unit: parts.unit,
    uncertainty: parts.value === null ? null : parts.uncertainty,
    method: methodOf(input, parts),
    evidence: evidenceOf(
      input,
      parts.channels,
      parts.channels.length === 0
        ? []
        : input.reconstruction.sources
            .filter((each) => each.type === 'telemetry')
            .map((each) => each.file),
    ),
    ...(parts.value === null && parts.reason !== undefined ? { reason: parts.reason } : {}),
  };
}

/** The method with the points that lengths and speeds are of, where these are not the ports as given. */
function methodOf({ reconstruction }: StretchInput, { method, unit }: FigureParts): string {
  const solution = reconstruction.navigation?.sources.find(({ isSolution }) => isSolution);
  const words = referenceWords(solution?.reference);
  return words === null || (unit !== 'm' && unit !== 'm/s') ? method : `${method} ${words}`;
}

function evidenceOf(
  input: StretchInput,
  channels: readonly string[],
  files: readonly string[],
): Evidence {
  return {
    sources: input.reconstruction.sources
      .filter((each) => files.includes(each.file))
      .map(({ file, sha256 }) => ({ file, sha256 })),
    channels,
    fromS: input.fromS,
    toS: input.toS,
  };
}

function overlapS(input: StretchInput, startS: number | null, endS: number | null): number {
  if (startS === null || endS === null) return 0;
  return Math.max(0, Math.min(endS, input.toS) - Math.max(startS, input.fromS));
}

/** The half-width of a single estimate of a quantity, taken from a rule on it. */
function ruleUncertainty(input: StretchInput, quantity: string): Uncertainty | null {
  const rule = input.reconstruction.ruleSet.find(
    (each) => limitsOfRule(each)?.quantity === quantity,
  );
  const result = input.reconstruction.rules.find((each) => each.id === rule?.id);
  return result?.instantMargin?.uncertainty ?? null;
}

/** Range at both ends over the length: the mean of the rate is known as well as the ranges are. */
function meanRateUncertainty(input: StretchInput): Uncertainty | null {
  const range = nearestRangeUncertainty(input);
  const lengthS = input.toS - input.fromS;
  if (range === null || range.random === null || lengthS <= 0) return null;
  return { random: (Math.SQRT2 * range.random) / lengthS, systematic: null };
}

function nearestRangeUncertainty(input: StretchInput): Uncertainty | null {
  const middle = (input.fromS + input.toS) / 2;
  const edges = input.reconstruction.phases.flatMap((phase) => [
    { tS: phase.startS.value, figure: phase.rangeStartM },
    { tS: phase.endS.value, figure: phase.rangeEndM },
  ]);
  let nearest: Figure | null = null;
  let distance = Number.POSITIVE_INFINITY;
  for (const { tS, figure } of edges) {
    if (tS === null || Math.abs(tS - middle) >= distance) continue;
    distance = Math.abs(tS - middle);
    nearest = figure;
  }
  return nearest?.uncertainty ?? null;
}

function quadrature(figures: readonly Figure[]): Uncertainty | null {
  if (figures.length === 0) return { random: 0, systematic: null };
  const parts = figures.map((figure) => figure.uncertainty?.random ?? null);
  if (parts.some((part) => part === null)) return null;
  return { random: Math.hypot(...parts.map((part) => part ?? 0)), systematic: null };
}
