/** A quantity about the target of a task, in numbers: of the flight and of each run alike. */
import { spreadOverTime } from '../compare/time-spread';
import { insideBounds } from '../handling/inside-bounds';
import { lowerBound } from '../math/search';
import type { RowSpan } from '../motion/row-span';
import type { EstimatedQuantity } from '../rules/rule-context';
import type { HandlingTask } from '../session/handling-words';

/** `inside...` are shares of the time, the rest is in the quantity's unit; `overshoots` counts. */
export type TaskNumbers = Readonly<{
  insideDesired: number;
  insideAdequate: number;
  overshoots: number;
  bias: number;
  rms: number;
  peak: number;
}>;

export type TaskNumberName = keyof TaskNumbers;

/** How each number is taken, as a sentence. */
export const TASK_METHODS: Readonly<Record<TaskNumberName, string>> = {
  insideDesired:
    'Share of the time within the desired half-width about the target; straight lines between rows.',
  insideAdequate:
    'Share of the time within the adequate half-width about the target; straight lines between rows.',
  overshoots: 'Times the desired bounds were left.',
  bias: 'Mean distance from the target, over time.',
  rms: 'Root mean square distance from the target, over time.',
  peak: 'Distance from the target farthest from zero.',
};

/** Rows of the spans inside a stretch, s of the quantity's own time. */
function spansOf(
  { tS, stretches }: EstimatedQuantity,
  fromS: number,
  toS: number,
): readonly RowSpan[] {
  const first = lowerBound(tS, fromS);
  const end = lowerBound(tS, toS);
  return stretches.flatMap(({ from, to }): RowSpan[] => {
    const span = { from: Math.max(from, first), to: Math.min(to, end) };
    return span.to - span.from < 2 ? [] : [span];
  });
}

/** @returns null where the quantity has no value in the stretch; `spans` are the rows it has there */
export function measureTask(
  quantity: EstimatedQuantity,
  { target, desired, adequate }: HandlingTask,
  { fromS, toS }: Readonly<{ fromS: number; toS: number }>,
): Readonly<{ numbers: TaskNumbers; durationS: number; spans: readonly RowSpan[] }> | null {
  const spans = spansOf(quantity, fromS, toS);
  const column = { tS: quantity.tS, values: quantity.value.map((each) => each - target), spans };
  const spread = spreadOverTime(column, fromS, toS);
  if (spread.durationS === 0) return null;
  const inDesired = insideBounds(column, desired);
  const numbers: TaskNumbers = {
    insideDesired: inDesired.share,
    insideAdequate: insideBounds(column, adequate).share,
    overshoots: inDesired.overshoots,
    bias: spread.mean,
    rms: Math.hypot(spread.mean, spread.sd),
    peak: spread.peak,
  };
  return { numbers, durationS: spread.durationS, spans };
}
