/** Tasks flown by hand: measured against their bounds, with the ratings that were given. */

import { ratingFault } from '../handling/decision-tree';
import { claimOfRating, ratingScale } from '../handling/rating-scales';
import { TASK_LOAD, taskLoadFaults } from '../handling/task-load';
import { median, NORMAL_95 } from '../math/statistics';
import type { EstimatedQuantity } from '../rules/rule-context';
import type { HandlingRating, HandlingTask } from '../session/handling-words';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { type FigureParts, figureOf, type Origin } from './figure-of';
import { comparedQuantity } from './final-step';
import type { HandlingReport, RatingResult, TaskResult } from './handling';
import { quantityByName } from './quantities';
import { pilotInLoop, taskActivity } from './task-activity';
import { measureTask, TASK_METHODS, type TaskNumberName } from './task-measures';
import { type SimulatedRuns, simulatedTask } from './task-simulator';

/** Bounds count as kept when they hold for this share of the time. Our own choice. */
const KEPT_SHARE = 0.95;

type Session = Readonly<{
  session: SessionMotion | null;
  sources: readonly CheckedSource[];
  /** Runs of the simulator with the same steps; null without. */
  simulated: SimulatedRuns | null;
}>;

function quantityOf(name: string, { session, sources }: Session): EstimatedQuantity | null {
  if (session === null) return quantityByName(name, null, sources);
  return comparedQuantity(session, sources, null)(name);
}

type Measures = Pick<
  TaskResult,
  | 'unit'
  | 'insideDesired'
  | 'insideAdequate'
  | 'overshoots'
  | 'bias'
  | 'rms'
  | 'peak'
  | 'simulator'
  | 'met'
  | 'fault'
>;

function nothing(fault: string): Measures {
  const none = { insideDesired: null, insideAdequate: null, overshoots: null };
  return {
    unit: '',
    ...none,
    bias: null,
    rms: null,
    peak: null,
    simulator: null,
    met: null,
    fault,
  };
}

function metBy(desired: number, adequate: number): TaskResult['met'] {
  if (desired >= KEPT_SHARE) return 'desired';
  return adequate >= KEPT_SHARE ? 'adequate only' : 'neither';
}

function originOf({ channels }: EstimatedQuantity, { session, sources }: Session): Origin {
  const source = sources.find((each) =>
    each.channels.some(({ channel }) => channels.includes(channel.name)),
  )?.source;
  if (source === undefined) return session?.origin ?? { sources: [], channels };
  return { sources: [{ file: source.file, sha256: source.sha256 }], channels };
}

/** The quantity about its target, over the time of the task. */
function measure(task: HandlingTask, data: Session): Measures {
  const quantity = quantityOf(task.quantity, data);
  if (quantity === null) return nothing(`no source shows ${task.quantity}`);
  const measured = measureTask(quantity, task, task);
  if (measured === null) return nothing(`${task.quantity} has no value in that stretch`);
  const { numbers, durationS, spans } = measured;
  const rows = spans.flatMap(({ from, to }) => Array.from(quantity.sd.subarray(from, to)));
  const sd = quantity.noise === 'unknown' ? Number.NaN : median(rows);
  const independent = Math.max(1, durationS / Math.max(quantity.spanS, 1e-9));
  const origin = originOf(quantity, data);
  const { unit, systematic } = quantity;
  const figure = (
    name: TaskNumberName,
    parts: Pick<FigureParts, 'unit' | 'random' | 'systematic'>,
  ) =>
    figureOf(origin, {
      value: numbers[name],
      method: TASK_METHODS[name],
      fromS: task.fromS,
      toS: task.toS,
      ...parts,
    });
  const plain = (name: TaskNumberName) => figure(name, { unit: '1', random: Number.NaN });
  // What the source states of its accuracy moves all samples alike: it is in every distance from a target.
  const distance = (name: TaskNumberName, random: number) =>
    figure(name, { unit, random, systematic });
  const ofMean = (NORMAL_95 * sd) / Math.sqrt(independent);
  return {
    unit,
    insideDesired: plain('insideDesired'),
    insideAdequate: plain('insideAdequate'),
    overshoots: plain('overshoots'),
    bias: distance('bias', ofMean),
    rms: distance('rms', ofMean),
    peak: distance('peak', NORMAL_95 * sd),
    simulator: data.simulated === null ? null : simulatedTask(task, unit, data.simulated),
    met: metBy(numbers.insideDesired, numbers.insideAdequate),
    fault: null,
  };
}

const CLAIMS: Readonly<Record<'desired' | 'adequate only' | 'neither', string>> = {
  desired: 'the desired bounds were kept',
  'adequate only': 'only the adequate bounds were kept',
  neither: 'neither desired nor adequate bounds were kept',
};

/** How a rating differs from what was measured; null where it does not, or nothing was measured. */
function differs(claim: RatingResult['claim'], met: TaskResult['met']): string | null {
  // Ratings of 7 to 9 may speak of the workload alone: bounds that were kept do not contradict them.
  if (met === null || claim === null || claim === 'adequate not met' || claim === 'control lost') {
    return null;
  }
  return claim === met ? null : `the rating says that ${CLAIMS[claim]}; measured, ${CLAIMS[met]}`;
}

/** Why a rating cannot stand by itself; null where it can. */
function faultOf({ scale: id, answers, rating, load }: HandlingRating): string | null {
  if (id === TASK_LOAD.id && load !== undefined) return taskLoadFaults(load)[0] ?? null;
  const scale = ratingScale(id);
  return scale === null ? `there is no scale "${id}"` : ratingFault(scale, answers, rating);
}

function rated(
  rating: HandlingRating,
  task: Pick<TaskResult, 'met' | 'pilotInLoop'> | null,
): RatingResult {
  const wrong = faultOf(rating);
  const automatic =
    task?.pilotInLoop === 'at rest' ? 'no hand controller was moved in this task' : null;
  const fault = task === null ? `nobody named a task "${rating.task}"` : (wrong ?? automatic);
  const claim =
    fault === null && rating.scale === 'cooper-harper' ? claimOfRating(rating.rating) : null;
  return { ...rating, claim, fault, against: differs(claim, task?.met ?? null) };
}

/** Two tasks of one name share their ratings: that is said. */
function noteOnName({ name }: HandlingTask, tasks: readonly HandlingTask[]): string | null {
  const count = tasks.filter((task) => task.name === name).length;
  return count < 2
    ? null
    : `${count} tasks bear this name: a rating of it stands with each of them.`;
}

/** Tasks in the order of time, each with its measures and ratings. */
export function handlingReport(
  tasks: readonly HandlingTask[],
  ratings: readonly HandlingRating[],
  data: Session,
): HandlingReport {
  const results = [...tasks]
    .sort((a, b) => a.fromS - b.fromS)
    .map((task): TaskResult => {
      const measured = {
        ...measure(task, data),
        pilotInLoop: pilotInLoop(data.sources, task),
        activity: taskActivity(data.sources, task),
      };
      const own = ratings.filter((rating) => rating.task === task.name);
      const note = noteOnName(task, tasks);
      return { ...task, ...measured, note, ratings: own.map((rating) => rated(rating, measured)) };
    });
  const names = new Set(tasks.map(({ name }) => name));
  const astray = ratings.filter(({ task }) => !names.has(task));
  return { tasks: results, astray: astray.map((rating) => rated(rating, null)) };
}
