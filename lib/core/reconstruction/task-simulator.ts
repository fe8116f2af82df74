/** A task as the simulator's runs flew it: the same measures over the same part of the plan. */
import { quantileInterval } from '../math/order-statistics';
import type { StepSpan } from '../rules/rule-context';
import type { HandlingTask } from '../session/handling-words';
import { halfBetween } from './comparison-scores';
import { figureOf, type Origin } from './figure-of';
import type { FinalStep } from './final-step';
import type { SimulatedTask } from './handling';
import { measureTask, TASK_METHODS, type TaskNumberName, type TaskNumbers } from './task-measures';

/** The runs that bands and ranks rest on, beside the steps as flown. */
export type SimulatedRuns = Readonly<{
  flown: ReadonlyMap<string, StepSpan>;
  runs: readonly FinalStep[];
  origin: Origin;
}>;

type Spans = SimulatedRuns['flown'];

/**
 * The instant of a run that stands for one of the flight: as large a share of the same step. A stretch
 * that is a whole step is the whole step in each run, however long either took.
 *
 * @returns NaN where the flight is in no step then, or the run did not fly it
 */
function instantOfRun(timeS: number, flown: Spans, run: Spans, edge: 'start' | 'end'): number {
  for (const [id, { startS, endS }] of flown) {
    // Where one step ends as the next begins, the stretch is inside the one that it has a part of.
    const isIn =
      edge === 'start' ? startS <= timeS && timeS < endS : startS < timeS && timeS <= endS;
    const own = run.get(id);
    if (!isIn || own === undefined) continue;
    return own.startS + ((timeS - startS) / (endS - startS)) * (own.endS - own.startS);
  }
  return Number.NaN;
}

function numbersOfRun(task: HandlingTask, flown: Spans, run: FinalStep): TaskNumbers | null {
  const fromS = instantOfRun(task.fromS, flown, run.spans, 'start');
  const toS = instantOfRun(task.toS, flown, run.spans, 'end');
  if (!(toS > fromS)) return null;
  const quantity = run.linesQuantity(task.quantity);
  return quantity === null ? null : (measureTask(quantity, task, { fromS, toS })?.numbers ?? null);
}

/**
 * The measures of a task in the median run.
 *
 * @param unit SI unit of the task's quantity
 * @returns null where no run covers the stretch
 */
export function simulatedTask(
  task: HandlingTask,
  unit: string,
  { flown, runs, origin }: SimulatedRuns,
): SimulatedTask | null {
  const each = runs.flatMap((run) => numbersOfRun(task, flown, run) ?? []);
  if (each.length === 0) return null;
  const figure = (name: TaskNumberName, unitOf: string) => {
    const sorted = Float64Array.from(each, (numbers) => numbers[name]).sort();
    const middle = quantileInterval(sorted, 0.5);
    return figureOf(origin, {
      value: middle.value,
      unit: unitOf,
      random: halfBetween(middle),
      method: `${TASK_METHODS[name]} Over the same part of the step in each run; median of ${each.length} runs that cover it, with bounds from order statistics.`,
    });
  };
  return {
    runs: each.length,
    insideDesired: figure('insideDesired', '1'),
    insideAdequate: figure('insideAdequate', '1'),
    overshoots: figure('overshoots', '1'),
    bias: figure('bias', unit),
    rms: figure('rms', unit),
    peak: figure('peak', unit),
  };
}
