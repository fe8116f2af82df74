/** A task flown by hand: its bounds, measures beside the simulator's, and what the controller did. */
import type { Figure } from '../core/figure';
import { quantityLabel } from '../core/reconstruction/compared-names';
import type { AxisActivity, TaskResult } from '../core/reconstruction/handling';
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
import { type RatingRow, ratingRow, spreadOf } from './rating-row';

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
  /** `simulator` is of the median run; null where no run covers the stretch. */
  measures: readonly Readonly<{
    label: string;
    figure: FigureView;
    simulator: FigureView | null;
  }>[];
  /** How many runs the simulator's figures are of; null where there are none. */
  simulated: string | null;
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
  neither: { text: 'neither desired nor adequate bounds kept 95 % of the time', tone: 'beyond' },
} as const;

function boundsText(task: TaskResult): string {
  const { unit, fromSi, decimals } = readerUnit(task.unit);
  const write = (value: number): string => `${formatNumber(value * fromSi, decimals)} ${unit}`;
  const about = task.target === 0 ? '' : ` about ${write(task.target)}`;
  return `${quantityLabel(task.quantity)} within ${write(task.desired)} desired, ${write(task.adequate)} adequate${about}`;
}

function measureView(
  figure: Figure,
  unit: string | null,
  options: Readonly<{ sessionId: string; label: string }>,
): FigureView {
  return unit === 'count' ? countView(figure, options) : figureView(figure, { ...options, unit });
}

const MEASURES = [
  ['insideDesired', 'inside desired', '%'],
  ['insideAdequate', 'inside adequate', '%'],
  ['overshoots', 'times desired was left', 'count'],
  ['bias', 'bias', null],
  ['rms', 'rms', null],
  ['peak', 'farthest', null],
] as const;

function measuresOf(task: TaskResult, sessionId: string): TaskCard['measures'] {
  return MEASURES.flatMap(([name, label, unit]) => {
    const figure = task[name];
    if (figure === null) return [];
    const view = (each: Figure, of: string): FigureView =>
      measureView(each, unit, { sessionId, label: `${task.name}, ${label}${of}` });
    const simulator = task.simulator?.[name] ?? null;
    return [
      {
        label,
        figure: view(figure, ''),
        simulator: simulator === null ? null : view(simulator, ', median run'),
      },
    ];
  });
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
    simulated:
      task.simulator == null
        ? null
        : `The second line is of the median of ${plural(task.simulator.runs, 'simulator run')}, over the same part of the step.`,
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
function taskKeys({ name, activity, simulator }: TaskResult): readonly string[] {
  const own = ['inside_desired', 'inside_adequate', 'overshoots', 'bias', 'rms', 'peak'];
  const runs = simulator == null ? [] : own.map((each) => `sim_${each}`);
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
  return [...own, ...runs, ...moved].map((each) => `handling[${name}].${each}`);
}
