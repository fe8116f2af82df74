/** Keys of the numbers that speak for a part of a comparison, and what can be chosen as evidence. */
import type { Comparison } from '../core/reconstruction/comparison';

const OF_QUANTITY = [
  'share_outside',
  'chance_p95',
  'pairs[0].bias',
  'pairs[0].rms',
  'pairs[0].peak',
  'pairs[1].bias',
  'pairs[1].rms',
  'pairs[1].lag_s',
  'pairs[1].inside',
] as const;
const OF_SCORE = ['flight', 'sim_median', 'sim_p95', 'runs_below'] as const;

/** The numbers of one compared quantity. */
export function evidenceKeys(quantity: string): readonly string[] {
  return OF_QUANTITY.map((each) => `comparison.quantities[${quantity}].${each}`);
}

/** The numbers of one score. */
function scoreKeys(score: string): readonly string[] {
  return OF_SCORE.map((each) => `comparison.scores[${score}].${each}`);
}

/** What an axis rests on: the ratio and the score it is made of. */
export function axisKeys(axis: string, scores: Comparison['scores']): readonly string[] {
  const prefix = `${axis.replace('.', '_')}_std_final_`;
  const score = scores.find(({ name }) => name.startsWith(prefix));
  const ratio = `comparison.axes[${axis}].ratio`;
  return score === undefined ? [ratio] : [ratio, ...scoreKeys(score.name)];
}

export type EvidenceChoice = Readonly<{ value: string; text: string }>;

/** What can be chosen as evidence: `value` holds the keys, one space between them. */
export function evidenceChoices({ quantities, scores }: Comparison): readonly EvidenceChoice[] {
  return [
    ...quantities.map(({ name, label }) => ({
      value: evidenceKeys(name).join(' '),
      text: `${label} at the places`,
    })),
    ...scores.map(({ name, label }) => ({ value: scoreKeys(name).join(' '), text: label })),
  ];
}
