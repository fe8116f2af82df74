/** Whether the navigation behind the approach can be trusted, as figures. */
import { NORMAL_95, normalQuantile } from '../math/statistics';
import { type FeedStretch, feedStretches, handOvers } from '../navigation/source-states';
import { SCATTER_BLOCK } from '../series/block-noise';
import { END_ERROR, SCATTER_ERROR, takeSamples } from '../series/samples';
import type { NavigationState } from '../session/session-input';
import { stampingOf } from '../session/stamping';
import { statedAccuracy } from './accuracy';
import type { CheckedChannel, CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { figureOf } from './figure-of';
import { faultsOfMotion, KINEMATIC } from './joined-source';
import { FAULT_WORDS } from './kind-words';
import type {
  NavigationReport,
  PairDifferences,
  SourcePoints,
  StatedAgainstScatter,
  UnusedStretch,
} from './navigation-report';
import { rangePairs } from './range-pairs';
import { solutionSteps } from './solution-steps';
import { turningAxes } from './turning-figures';

type Feeds = Readonly<{ selector: string | null; stretches: readonly FeedStretch[] }>;

/** A source without a selector is fed by its one sensor throughout, between its gaps. */
function wholeFeed({ source, tS, gaps }: CheckedSource): readonly FeedStretch[] {
  const name = source.declared.sensor ?? source.file;
  const starts = [0, ...gaps.map(({ to }) => to)];
  return starts.flatMap((from, index): FeedStretch[] => {
    const fromS = tS[from];
    const toS = tS[gaps[index]?.from ?? tS.length - 1];
    return fromS === undefined || toS === undefined
      ? []
      : [{ name, kind: 'measured', fromS, toS, settlesS: 0 }];
  });
}

function feedsOf(checked: CheckedSource): Feeds {
  const { navigation } = checked.source.declared;
  const selector =
    navigation === undefined
      ? undefined
      : checked.channels.find(({ channel }) =>
          [channel.name, channel.as].includes(navigation.selector),
        );
  if (navigation === undefined || selector === undefined)
    return { selector: null, stretches: wholeFeed(checked) };
  const states: readonly NavigationState[] = navigation.states;
  return {
    selector: selector.channel.name,
    stretches: feedStretches(checked.tS, selector.channel.values, states, checked.longestStepS),
  };
}

/** Of all sources that the motion is estimated from, each up to where the next goes on. */
function feedsOfParts({ parts, joins }: SessionMotion): Feeds {
  const feeds = parts.map(feedsOf);
  const stretches = feeds.flatMap((feed, index) => {
    const fromS = joins[index - 1]?.atS ?? Number.NEGATIVE_INFINITY;
    const toS = joins[index]?.beforeS ?? Number.POSITIVE_INFINITY;
    return feed.stretches.flatMap((each): FeedStretch[] => {
      const cut = { ...each, fromS: Math.max(each.fromS, fromS), toS: Math.min(each.toS, toS) };
      return cut.fromS <= cut.toS ? [cut] : [];
    });
  });
  return { selector: feeds.find(({ selector }) => selector !== null)?.selector ?? null, stretches };
}

/** Kinds of faults for which samples of the solution were not there or not used. */
const UNUSED: ReadonlySet<string> = new Set([
  'gap',
  'frozen',
  'saturated',
  'spike',
  'held',
  'left_out',
]);

function unusedOf(session: SessionMotion): readonly UnusedStretch[] {
  return faultsOfMotion(session, session.motion.channels).flatMap((fault): UnusedStretch[] => {
    if (!UNUSED.has(fault.kind)) return [];
    const what = FAULT_WORDS[fault.kind];
    const { channel, startS, endS, note } = fault;
    const kind = fault.kind === 'gap' ? 'gap' : 'faulty';
    return [{ kind, what, channel, fromS: startS, toS: endS, note }];
  });
}

/** Standard error of a median over that of a mean, normal scatter: the root of pi/2 (Kenney, Keeping, Mathematics of Statistics, part 2, 1951, from memory). */
const MEDIAN_ERROR = 1.2533;

function accuracyOf(
  { source, tS }: CheckedSource,
  { channel, rejected }: CheckedChannel,
): StatedAgainstScatter | null {
  const stated = statedAccuracy(source.declared, [channel.as]);
  if (stated === null || !KINEMATIC.test(channel.as)) return null;
  const samples = takeSamples(tS, channel.values, rejected);
  const sd = Float64Array.from(samples.sd).sort();
  const origin = {
    sources: [{ file: source.file, sha256: source.sha256 }],
    channels: [channel.name],
  };
  const over = { fromS: tS[0] ?? null, toS: tS[tS.length - 1] ?? null };
  const figure = (value: number, random: number | null, method: string) =>
    figureOf(origin, { value, unit: channel.unit, random, method, ...over });
  const blocks = Math.max(1, Math.ceil(sd.length / SCATTER_BLOCK));
  const middle = NORMAL_95 * (sd[sd.length >> 1] ?? Number.NaN);
  const most = NORMAL_95 * (sd[sd.length - 1] ?? Number.NaN);
  // A middle of many is sure to itself over their root; the largest of many errs as the luckiest of them.
  const middleError = (NORMAL_95 * SCATTER_ERROR * MEDIAN_ERROR) / Math.sqrt(blocks);
  const mostError = normalQuantile(1 - 0.025 / blocks) * SCATTER_ERROR * END_ERROR;
  const by =
    '1.96 times the standard deviation of each sample about the line between its neighbours, over some 256 samples at a time';
  return {
    source: source.file,
    channel: channel.name,
    stated: figure(stated, null, 'Half-width of the 95 % interval that the session file states.'),
    typical: figure(middle, middle * middleError, `${by}; the middle one.`),
    largest: figure(most, most * mostError, `${by}; the largest.`),
  };
}

const RATES = /^(range_rate|velocity\.[xyz])$/;

function pointsOf({ source, reference }: CheckedSource, isSolution: boolean): SourcePoints {
  const { declared } = source;
  return {
    file: source.file,
    isSolution,
    sensor: declared.sensor ?? null,
    points: declared.points,
    leverArmM: declared.leverArmM,
    measuresVelocity: source.channels.some(({ as }) => RATES.test(as)) ? 'yes' : 'no',
    velocityFrame: declared.velocityFrame,
    ...stampingOf(source),
    ...(reference === undefined ? {} : { reference }),
  };
}

/**
 * What fed the solution when, its hand-overs and jumps, what was not used of it, other ranges against
 * it, stated accuracy against scatter, and what each source is measured between.
 *
 * @param sources all telemetry, on session time and checked
 * @param span the stretch evaluated, s
 * @returns the report, and the differences between ranges that its pairs are formed from, in their order
 */
export function navigationFigures(
  session: SessionMotion,
  sources: readonly CheckedSource[],
  span: Readonly<{ fromS: number; toS: number }>,
): Readonly<{ report: NavigationReport; differences: readonly PairDifferences[] }> {
  const feeds = feedsOfParts(session);
  const overs = handOvers(feeds.stretches);
  const compared = rangePairs(session, sources, span);
  const report: NavigationReport = {
    solution: { file: session.source.source.file, channels: session.motion.channels },
    selector: feeds.selector,
    feeds: feeds.stretches,
    unused: unusedOf(session),
    steps: solutionSteps(session, overs),
    pairs: compared.map(({ pair }) => pair),
    accuracies: sources.flatMap((source) =>
      source.channels.flatMap((each) => accuracyOf(source, each) ?? []),
    ),
    turning: turningAxes(session),
    sources: sources.map((source) => pointsOf(source, session.parts.includes(source))),
  };
  return { report, differences: compared.map(({ differences }) => differences) };
}
