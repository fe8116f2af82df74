/** What a rule leaves of room in a stretch, and how long it was beyond. */
import type { Figure, Uncertainty } from '../figure';
import type { RuleLimits } from '../session/limit-columns';
import { nameFromId } from '../session/name-from-id';
import type { CapturedFigure } from './finding';
import { figureOf, type StretchInput } from './stretch-figure';
import { rowsOf, siUnitOf, valueAt } from './stretch-rows';

/** Margin and time beyond, for a rule that applied somewhere in the stretch. */
export function ruleFigures(
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

function overlapS(input: StretchInput, startS: number | null, endS: number | null): number {
  if (startS === null || endS === null) return 0;
  return Math.max(0, Math.min(endS, input.toS) - Math.max(startS, input.fromS));
}

function quadrature(figures: readonly Figure[]): Uncertainty | null {
  if (figures.length === 0) return { random: 0, systematic: null };
  const parts = figures.map((figure) => figure.uncertainty?.random ?? null);
  if (parts.some((part) => part === null)) return null;
  return { random: Math.hypot(...parts.map((part) => part ?? 0)), systematic: null };
}
