/** A task flown by hand: its bounds, measures, what the controller did, and its ratings beside the data. */
import type { Figure } from '../core/figure';
import { RATING_SCALES, ratingScale } from '../core/handling/rating-scales';
import { TASK_LOAD, TASK_LOAD_SCALES } from '../core/handling/task-load';
import { COMPARED_QUANTITIES } from '../core/reconstruction/compared-names';
import type { AxisActivity, RatingResult, TaskResult } from '../core/reconstruction/handling';
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import { formatNumber } from '../core/units/number-text';
import { readerUnit } from '../core/units/reader-unit';
import {
  countView,
  type FigureView,
  figureView,
  figureViewOrNull,
  timelineHref,
} from './figure-view';
import type { FindingPlace } from './finding-place';
import { plural } from './format-number';
import { formatSessionTime, formatStretch } from './format-time';

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

export function ratingRow(rating: RatingResult): RatingRow {
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

export function taskCard(
  task: TaskResult,
  { events }: Reconstruction,
  sessionId: string,
): TaskCard {
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
