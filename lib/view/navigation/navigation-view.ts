/** The screen of the navigation: what fed the solution, and whether it can be trusted. */
import type { Figure } from '../../core/figure';
import type {
  AxisJump,
  NavigationReport,
  PairDifferences,
  SolutionStep,
} from '../../core/reconstruction/navigation-report';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { formatNumber } from '../../core/units/number-text';
import { type FigureView, figureView, timelineHref } from '../figure-view';
import type { Sentence } from '../sentence';
import { type FeedBar, feedBars, unusedBars } from './feed-bars';
import { type FeedRow, feedRows, type UnusedRow, unusedRow } from './feed-rows';
import { isSeen, navigationAnswer } from './navigation-answer';
import { type PairView, pairViews } from './pair-view';
import { type PointsRow, pointsRows } from './points-rows';

export type JumpCell = Readonly<{ axis: string; figure: FigureView; isSeen: boolean }>;

export type StepRow = Readonly<{
  key: string;
  what: string;
  time: FigureView;
  href: string;
  positions: readonly JumpCell[];
  velocities: readonly JumpCell[];
  notes: readonly string[];
}>;

export type AccuracyRow = Readonly<{
  key: string;
  source: string;
  channel: string;
  stated: FigureView;
  typical: FigureView;
  largest: FigureView;
  verdict: string;
  isBeyond: boolean;
}>;

export type NavigationView = Readonly<{
  answer: readonly Sentence[];
  strip: Readonly<{
    fromS: number;
    toS: number;
    bars: readonly FeedBar[];
    unused: readonly FeedBar[];
  }>;
  feeds: readonly FeedRow[];
  selectorNote: string;
  steps: readonly StepRow[];
  unused: readonly UnusedRow[];
  pairs: readonly PairView[];
  accuracies: readonly AccuracyRow[];
  points: readonly PointsRow[];
}>;

/** Along which axes a jump is larger than its own half-width. */
function seenWords(positions: readonly JumpCell[], velocities: readonly JumpCell[]): string {
  const seen = (cells: readonly JumpCell[], of: string): readonly string[] =>
    cells.filter((cell) => cell.isSeen).map(({ axis }) => `${of} along ${axis}`);
  const all = [...seen(positions, 'position'), ...seen(velocities, 'velocity')];
  return all.length === 0
    ? 'no step larger than its own half-width'
    : `larger than its own half-width: ${all.join(', ')}`;
}

function stepRow(step: SolutionStep, index: number, sessionId: string): StepRow {
  const { handOver, axes } = step;
  const what =
    handOver === null ? 'Jump without a hand-over' : `${handOver.from} to ${handOver.to}`;
  const cells = (of: (jump: AxisJump) => Figure | null, quantity: string): readonly JumpCell[] =>
    axes.flatMap((jump) => {
      const figure = of(jump);
      if (figure === null) return [];
      const label = `${what}, ${quantity} along ${jump.axis}`;
      const view = figureView(figure, { sessionId, label, form: 'signed' });
      return [{ axis: jump.axis, figure: view, isSeen: isSeen(figure) }];
    });
  const atS = step.atS.value ?? 0;
  const positions = cells(({ positionM }) => positionM, 'jump in position');
  const velocities = cells(({ velocityMps }) => velocityMps, 'jump in velocity');
  return {
    key: `step-${index}`,
    what,
    time: figureView(step.atS, { sessionId, label: `${what}, time`, form: 'time' }),
    href: timelineHref(sessionId, atS, atS + (handOver?.settlesS ?? 0)),
    positions,
    velocities,
    notes: [
      ...(step.isMoved
        ? ['samples before it were moved onto those after it; no rate runs across']
        : []),
      seenWords(positions, velocities),
      ...(handOver === null ? [] : [`settles for ${formatNumber(handOver.settlesS, 0)} s`]),
    ],
  };
}

function accuracyRows(report: NavigationReport, sessionId: string): readonly AccuracyRow[] {
  return report.accuracies.map(({ source, channel, stated, typical, largest }) => {
    const options = (what: string) => ({ sessionId, label: `${channel}, ${what}` });
    const least = ({ value, uncertainty }: Figure) => (value ?? 0) - (uncertainty?.random ?? 0);
    const isBeyond = least(typical) > (stated.value ?? Infinity);
    const isPartly = least(largest) > (stated.value ?? Infinity);
    return {
      key: `${source}/${channel}`,
      source,
      channel,
      stated: figureView(stated, options('stated accuracy')),
      typical: figureView(typical, options('usual scatter')),
      largest: figureView(largest, options('largest scatter')),
      verdict: isBeyond
        ? 'scatters more than stated'
        : isPartly
          ? 'more in part'
          : 'within what is stated',
      isBeyond,
    };
  });
}

/**
 * @param differences what the pairs' figures are formed from; none where they are not kept
 * @returns null where no motion was estimated
 */
export function navigationView(
  reconstruction: Reconstruction,
  sessionId: string,
  differences: readonly PairDifferences[] = [],
): NavigationView | null {
  const { navigation: report } = reconstruction;
  if (report === null || report === undefined) return null;
  const starts = report.feeds.map(({ fromS }) => fromS);
  const ends = report.feeds.map(({ toS }) => toS);
  return {
    answer: navigationAnswer(report, reconstruction, sessionId),
    strip: {
      fromS: Math.min(0, ...starts),
      toS: Math.max(1, ...ends),
      bars: feedBars(reconstruction),
      unused: unusedBars(reconstruction),
    },
    feeds: feedRows(reconstruction, report, sessionId),
    selectorNote:
      report.selector === null
        ? 'No column of this session says which sensor fed it: the source itself stands for its sensor, and a hand-over inside it is not known. The key navigation of session.yaml can name one.'
        : `Read from the column ${report.selector}.`,
    steps: report.steps.map((step, index) => stepRow(step, index, sessionId)),
    unused: report.unused.map((each, index) =>
      unusedRow(each, `unused-${index}`, reconstruction, sessionId),
    ),
    pairs: pairViews(report.pairs, differences, sessionId),
    accuracies: accuracyRows(report, sessionId),
    points: pointsRows(report),
  };
}
