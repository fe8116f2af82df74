/** Tasks flown by hand with measures and ratings, and the axes beside the simulator. */
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import { type AxisRow, axisRows, type MeasureRow, measureRows } from './axis-rows';
import { type RatingRow, ratingRow } from './rating-row';
import { vehicleSentence } from './run-group-view';
import type { Sentence } from './sentence';
import { type StretchOffer, stretchOffers } from './stretch-offers';
import { type TaskCard, taskCard } from './task-card';

export type HandlingView = Readonly<{
  tasks: readonly TaskCard[];
  astray: readonly RatingRow[];
  /** Stretches that look flown by hand, for the form of a task. */
  offers: readonly StretchOffer[];
  axes: readonly AxisRow[];
  measures: readonly MeasureRow[];
  /** What reconstructions say of the vehicle itself, or that there are none. */
  vehicle: Sentence | null;
}>;

export function handlingView(reconstruction: Reconstruction, sessionId: string): HandlingView {
  const { handling, comparison } = reconstruction;
  return {
    tasks: handling.tasks.map((task) => taskCard(task, reconstruction, sessionId)),
    astray: handling.astray.map(ratingRow),
    offers: stretchOffers(handling.manual ?? []),
    axes: comparison === null ? [] : axisRows(comparison, sessionId),
    measures: measureRows(comparison?.measures ?? [], sessionId),
    vehicle: comparison === null ? null : vehicleSentence(comparison, sessionId),
  };
}
