/** Ratings of tasks flown by hand, each by itself, beside what was measured. */
import { ratingScale } from '../../handling/rating-scales';
import { TASK_LOAD } from '../../handling/task-load';
import type { TaskResult } from '../../reconstruction/handling';
import { cell, keyRun, type ResolveContext, rowHeader } from '../resolve-context';
import type { TableCell } from '../resolved';
import { captionedTable } from './captioned-table';

function ratingRows(context: ResolveContext, task: TaskResult): readonly (readonly TableCell[])[] {
  const at = `handling[${task.name}]`;
  const measured = () => [
    cell(keyRun(context, `${at}.inside_desired`, { unit: '%' })),
    cell(keyRun(context, `${at}.inside_adequate`, { unit: '%' })),
  ];
  if (task.ratings.length === 0) {
    return [
      [rowHeader(task.name), cell('not rated'), cell(null), cell(null), ...measured(), cell(null)],
    ];
  }
  return task.ratings.map(({ scale, rating, rater, load, fault, against }) => [
    rowHeader(task.name),
    cell(load === undefined ? (ratingScale(scale)?.name ?? scale) : TASK_LOAD.name),
    cell(load === undefined ? String(rating) : rating.toFixed(1)),
    cell(rater),
    ...measured(),
    cell(fault ?? against, (fault ?? against) === null ? 'plain' : 'beyond'),
  ]);
}

/** One row a rating; a task that nobody rated has one too. */
export const ratingTable = captionedTable({
  name: 'ratingTable',
  label: 'Rating table',
  caption: 'Tasks flown by hand: ratings and what was measured',
  section: 'handling',
  count: ({ handling }) => handling.tasks.length,
  columns: [
    { label: 'Task', align: 'start' },
    { label: 'Scale', align: 'start' },
    { label: 'Rating', align: 'end' },
    { label: 'Rater', align: 'start' },
    { label: 'Inside desired', align: 'end' },
    { label: 'Inside adequate', align: 'end' },
    { label: 'Differs from the data', align: 'start' },
  ],
  rows: (context) =>
    context.material.reconstruction.handling.tasks.flatMap((task) => ratingRows(context, task)),
});
