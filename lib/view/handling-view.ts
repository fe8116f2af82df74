/** Tasks flown by hand with measures and ratings, the axes beside the simulator, and the forms' choices. */
import type { Figure } from '../core/figure';
import { type RatingScale, walkTree } from '../core/handling/decision-tree';
import { RATING_SCALES, ratingScale } from '../core/handling/rating-scales';
import { TASK_LOAD, TASK_LOAD_SCALES, TASK_LOAD_WORDS } from '../core/handling/task-load';
import { COMPARED_QUANTITIES } from '../core/reconstruction/compared-names';
import type { AxisMeasure, AxisRatio, Comparison } from '../core/reconstruction/comparison';
import type { AxisActivity, RatingResult, TaskResult } from '../core/reconstruction/handling';
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import type { HandlingRating, HandlingTask } from '../core/session/handling-words';
import { formatNumber } from '../core/units/number-text';
import { readerUnit } from '../core/units/reader-unit';
import { type CorrectionRow, type KeptWord, keptRow } from './clock/correction-list';
import { axisKeys } from './comparison-keys';
import {
  countView,
  type FigureView,
  figureView,
  figureViewOrNull,
  timelineHref,
} from './figure-view';
import { alignedFinding, type FindingPlace } from './finding-place';
import { plural } from './format-number';
import { formatSessionTime, formatStretch } from './format-time';
import { vehicleSentence } from './run-group-view';
import type { Sentence } from './sentence';

export type RatingRow = Readonly<{
  key: string;
  scale: string;
  rating: string;
  anchor: string;
  rater: string;
  remark: string | null;
  /** Why it cannot stand, or how it differs from the data. */
  trouble: string | null;
}>;

export type ActivityRow = Readonly<{
  axis: string;
  duty: FigureView;
  aggressiveness: FigureView;
  cutOff: FigureView;
  residualRate: FigureView | null;
  coupling: FigureView | null;
  firings: FigureView | null;
  jetDuty: FigureView | null;
}>;

export type TaskCard = Readonly<{
  key: string;
  name: string;
  about: string;
  stretch: Readonly<{ text: string; href: string }>;
  bounds: string;
  inLoop: string;
  met: Readonly<{ text: string; tone: 'inside' | 'unsure' | 'beyond' }> | null;
  measures: readonly Readonly<{ label: string; figure: FigureView }>[];
  activity: readonly ActivityRow[];
  ratings: readonly RatingRow[];
  /** Lowest and highest of each scale, where several rated. */
  spread: readonly string[];
  fault: string | null;
  note: string | null;
  /** What was said meanwhile. */
  said: readonly Readonly<{ key: string; at: string; href: string; text: string }>[];
  canRate: boolean;
  finding: FindingPlace;
}>;

const AXIS_WORDS: Readonly<Record<AxisRatio['verdict'], string>> = {
  loose: 'looser than any run',
  tight: 'tighter than any run',
  usual: 'not unusual',
  'not known': 'not known',
};

export type AxisRow = Readonly<{
  key: string;
  label: string;
  flight: FigureView;
  simulator: FigureView;
  ratio: FigureView;
  /** Place of the ratio on a scale from a quarter to four times, and of its interval; 0 to 1. */
  at: number;
  from: number;
  to: number;
  isLoose: boolean;
  isKnown: boolean;
  verdict: string;
  /** Null where nothing was aligned: there is no stretch to write of. */
  finding: FindingPlace | null;
}>;

export type MeasureRow = Readonly<{
  key: string;
  label: string;
  flight: FigureView;
  simulator: FigureView | null;
  /** Flight over the median run; null where either has no size. */
  ratio: FigureView | null;
}>;

export type HandlingView = Readonly<{
  tasks: readonly TaskCard[];
  astray: readonly RatingRow[];
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
    axes: comparison === null ? [] : axisRows(comparison, sessionId),
    measures: measureRows(comparison?.measures ?? [], sessionId),
    vehicle: comparison === null ? null : vehicleSentence(comparison, sessionId),
  };
}

const IN_LOOP: Readonly<Record<TaskResult['pilotInLoop'], string>> = {
  moved: 'the hand controller was moved',
  'at rest': 'no hand controller was moved: flown automatically, not to be rated',
  'not recorded': 'no hand controller was recorded',
};

const MET = {
  desired: { text: 'desired bounds kept at least 95 % of the time', tone: 'inside' },
  'adequate only': {
    text: 'adequate bounds kept at least 95 % of the time, desired not',
    tone: 'unsure',
  },
  neither: { text: 'neither bounds kept 95 % of the time', tone: 'beyond' },
} as const;

function labelOf(quantity: string): string {
  return COMPARED_QUANTITIES.find(({ name }) => name === quantity)?.label ?? quantity;
}

function boundsText(task: TaskResult): string {
  const { unit, fromSi, decimals } = readerUnit(task.unit);
  const write = (value: number): string => `${formatNumber(value * fromSi, decimals)} ${unit}`;
  const about = task.target === 0 ? '' : ` about ${write(task.target)}`;
  return `${labelOf(task.quantity)} within ${write(task.desired)} desired, ${write(task.adequate)} adequate${about}`;
}

function measureView(
  figure: Figure,
  unit: string | null,
  options: Readonly<{ sessionId: string; label: string }>,
): FigureView {
  return unit === 'count' ? countView(figure, options) : figureView(figure, { ...options, unit });
}

function measuresOf(task: TaskResult, sessionId: string): TaskCard['measures'] {
  const rows = [
    ['inside desired', task.insideDesired, '%'],
    ['inside adequate', task.insideAdequate, '%'],
    ['times desired was left', task.overshoots, 'count'],
    ['bias', task.bias, null],
    ['rms', task.rms, null],
    ['farthest', task.peak, null],
  ] as const;
  return rows.flatMap(([label, figure, unit]) =>
    figure === null
      ? []
      : [
          {
            label,
            figure: measureView(figure, unit, { sessionId, label: `${task.name}, ${label}` }),
          },
        ],
  );
}

function activityRow(activity: AxisActivity, task: string, sessionId: string): ActivityRow {
  const { axis } = activity;
  const options = (what: string, unit: string | null = null) =>
    ({ sessionId, label: `${task}, ${axis}, ${what}`, unit }) as const;
  return {
    axis,
    duty: figureView(activity.duty, options('duty of the hand controller', '%')),
    aggressiveness: figureView(activity.aggressiveness, options('aggressiveness')),
    cutOff: figureView(activity.cutOffHz, options('cut-off frequency')),
    residualRate: figureViewOrNull(activity.residualRate, options('rate after release')),
    coupling: figureViewOrNull(activity.coupling ?? null, options('cross-coupling', '%')),
    firings: activity.firings === null ? null : countView(activity.firings, options('jet firings')),
    jetDuty: figureViewOrNull(activity.jetDuty, options('jet duty', '%')),
  };
}

/** The six sub-scales, each with its value. */
function loadText(load: NonNullable<RatingResult['load']>): string {
  return TASK_LOAD_SCALES.map((scale) => `${scale} ${load[scale]}`).join(', ');
}

function ratingRow(rating: RatingResult): RatingRow {
  const scale = ratingScale(rating.scale);
  return {
    key: `${rating.task}-${rating.scale}-${rating.rater}-${rating.rating}`,
    scale: scale?.name ?? (rating.load === undefined ? rating.scale : TASK_LOAD.name),
    rating: formatNumber(rating.rating, rating.load === undefined ? 0 : 1),
    anchor:
      rating.load === undefined ? (scale?.anchors[rating.rating] ?? '') : loadText(rating.load),
    rater: rating.rater,
    remark: rating.remark,
    trouble: rating.fault ?? rating.against,
  };
}

/** Spread over raters, never averaged away. */
function spreadOf(ratings: readonly RatingResult[]): readonly string[] {
  return [...RATING_SCALES, TASK_LOAD].flatMap(({ id, name }) => {
    const given = ratings.filter(({ scale, fault }) => scale === id && fault === null);
    if (given.length < 2) return [];
    const values = given.map(({ rating }) => rating);
    const raters = new Set(given.map(({ rater }) => rater)).size;
    return [
      `${name}: ${Math.min(...values)} to ${Math.max(...values)}, ${plural(given.length, 'rating')} by ${plural(raters, 'rater')}`,
    ];
  });
}

function taskCard(task: TaskResult, { events }: Reconstruction, sessionId: string): TaskCard {
  return {
    key: task.name,
    name: task.name,
    about: `flown by ${task.pilot}`,
    stretch: {
      text: formatStretch(task.fromS, task.toS),
      href: timelineHref(sessionId, task.fromS, task.toS),
    },
    bounds: boundsText(task),
    inLoop: IN_LOOP[task.pilotInLoop],
    met: task.met === null ? null : MET[task.met],
    measures: measuresOf(task, sessionId),
    activity: task.activity.map((axis) => activityRow(axis, task.name, sessionId)),
    ratings: task.ratings.map(ratingRow),
    spread: spreadOf(task.ratings),
    fault: task.fault,
    note: task.note ?? null,
    said: events
      .filter(({ timeS, text }) => text !== null && timeS >= task.fromS && timeS <= task.toS)
      .map(({ timeS, text, speaker, source, line }) => ({
        key: `${source}-${line}`,
        at: formatSessionTime(timeS),
        href: timelineHref(sessionId, timeS, timeS),
        text: speaker === null ? (text ?? '') : `${speaker}: ${text ?? ''}`,
      })),
    canRate: task.pilotInLoop !== 'at rest',
    finding: {
      sessionId,
      fromS: task.fromS,
      toS: task.toS,
      channels: task.bias?.evidence.channels ?? [],
      keys: taskKeys(task),
      query: '',
    },
  };
}

/** The numbers of a task, by the keys they are listed under. */
function taskKeys({ name, activity }: TaskResult): readonly string[] {
  const own = ['inside_desired', 'inside_adequate', 'overshoots', 'bias', 'rms', 'peak'];
  const moved = activity.flatMap(({ axis }) =>
    [
      'duty',
      'aggressiveness',
      'cut_off_hz',
      'residual_rate',
      'coupling',
      'firings',
      'jet_duty',
    ].map((each) => `${axis}.${each}`),
  );
  return [...own, ...moved].map((each) => `handling[${name}].${each}`);
}

/** From a quarter to four times, by the logarithm: as much looser as tighter looks as far. */
function placeOfRatio(ratio: number): number {
  const place = (Math.log2(Math.max(ratio, 1e-9)) + 2) / 4;
  return Math.min(1, Math.max(0, place));
}

function axisRows({ axes, scores, report }: Comparison, sessionId: string): readonly AxisRow[] {
  return axes.map((axis) => {
    const { label, flight, simulator, ratio, verdict } = axis;
    const value = ratio.value ?? Number.NaN;
    const half = ratio.uncertainty?.random ?? 0;
    return {
      key: axis.axis,
      label,
      flight: figureView(flight, { sessionId, label: `${label}, deviation flown` }),
      simulator: figureView(simulator, {
        sessionId,
        label: `${label}, deviation of the median run`,
      }),
      ratio: figureView(ratio, { sessionId, label: `${label}, ratio` }),
      at: placeOfRatio(value),
      from: placeOfRatio(value - half),
      to: placeOfRatio(value + half),
      isLoose: verdict === 'loose',
      isKnown: verdict !== 'not known',
      verdict: AXIS_WORDS[verdict],
      finding: alignedFinding(report, {
        sessionId,
        channels: flight.evidence.channels,
        keys: axisKeys(axis.axis, scores),
        query: '',
      }),
    };
  });
}

function measureRows(measures: readonly AxisMeasure[], sessionId: string): readonly MeasureRow[] {
  return measures.map(({ key, label, flight, simulator, ratio = null }) => {
    const view = (figure: Figure, whose: string): FigureView => {
      const options = { sessionId, label: `${label}, ${whose}` };
      if (key.startsWith('firings')) return countView(figure, options);
      const isShare = key.startsWith('jet_duty') || key.startsWith('stick_duty');
      return figureView(figure, { ...options, unit: isShare ? '%' : null });
    };
    return {
      key,
      label,
      flight: view(flight, 'flight'),
      simulator: simulator === null ? null : view(simulator, 'median run'),
      ratio: figureViewOrNull(ratio, { sessionId, label: `${label}, ratio` }),
    };
  });
}

/** What a task can be about, with the unit in which its bounds are typed. */
export const TASK_QUANTITIES: readonly Readonly<{ value: string; text: string }>[] =
  COMPARED_QUANTITIES.map(({ name, label, unit }) => ({
    value: name,
    text: `${label}, ${readerUnit(unit).unit}`,
  }));

/** SI of a bound typed in the reader's unit of a quantity; null for a quantity that cannot be chosen. */
export function boundInSi(quantity: string, value: number): number | null {
  const found = COMPARED_QUANTITIES.find(({ name }) => name === quantity);
  return found === undefined ? null : value / readerUnit(found.unit).fromSi;
}

/** The six sub-scales of the task load as its form asks them. */
export const LOAD_FORM = {
  ...TASK_LOAD,
  scales: TASK_LOAD_SCALES.map((id) => ({ id, text: TASK_LOAD_WORDS[id] })),
};
export type LoadForm = typeof LOAD_FORM;

/** The scales as their forms ask them. */
export const SCALE_FORMS: readonly RatingScale[] = RATING_SCALES;

type Kept = Readonly<{
  tasks: readonly KeptWord<HandlingTask>[];
  ratings: readonly KeptWord<HandlingRating>[];
}>;

/** Tasks and ratings, for undoing them. */
export function handlingWords({ tasks, ratings }: Kept): readonly CorrectionRow[] {
  return [
    ...tasks.map((one) => keptRow(one, `task ${one.correction.name}`)),
    ...ratings.map((one) => {
      const { task, scale, rating, rater, answers } = one.correction;
      const found = ratingScale(scale);
      const asked = found === null ? [] : walkTree(found, answers).asked;
      return keptRow(
        one,
        found === null
          ? `${scale === TASK_LOAD.id ? TASK_LOAD.name : scale} ${formatNumber(rating, 1)} for ${task} by ${rater}`
          : `${found.name} ${rating} for ${task} by ${rater}, after ${asked.length} answers`,
      );
    }),
  ];
}
