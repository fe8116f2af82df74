/** When each sensor fed the solution and for how long, as figures. */
import type { Figure } from '../figure';
import type { FeedStretch } from '../navigation/source-states';
import { figureOf, type Origin } from './figure-of';
import type { NavigationReport, UnusedStretch } from './navigation-report';
import type { Reconstruction } from './reconstruction';

/** Start and length of a stretch, s. */
export type StretchFigures = Readonly<{ startS: Figure; lengthS: Figure }>;

type Edge = Readonly<{ atS: number; half: number | null; method: string }>;

const BETWEEN = 'Between the last row before and the first row after.';

/** Where a stretch begins: between two rows, or at its first where nothing is known before it. */
function startOf({ fromS, beforeS }: FeedStretch): Edge {
  if (beforeS === undefined) return { atS: fromS, half: null, method: 'Its first row.' };
  return { atS: (beforeS + fromS) / 2, half: (fromS - beforeS) / 2, method: BETWEEN };
}

function endOf({ toS }: FeedStretch, next: FeedStretch | undefined): Edge {
  if (next?.beforeS === undefined) return { atS: toS, half: null, method: 'Its last row.' };
  return startOf(next);
}

function originOf({ sources }: Reconstruction, { solution, selector }: NavigationReport): Origin {
  return {
    sources: sources
      .filter(({ file }) => file === solution.file)
      .map(({ file, sha256 }) => ({ file, sha256 })),
    channels: selector === null ? solution.channels : [selector],
  };
}

function stretchFigures(origin: Origin, start: Edge, end: Edge): StretchFigures {
  const half =
    start.half === null && end.half === null ? null : Math.hypot(start.half ?? 0, end.half ?? 0);
  const over = { fromS: start.atS, toS: end.atS, unit: 's' };
  return {
    startS: figureOf(origin, {
      ...over,
      toS: start.atS,
      value: start.atS,
      random: start.half,
      method: start.method,
    }),
    lengthS: figureOf(origin, {
      ...over,
      value: end.atS - start.atS,
      random: half,
      method: `End less start. Start: ${lowered(start.method)} End: ${lowered(end.method)}`,
    }),
  };
}

const lowered = (sentence: string): string => sentence.charAt(0).toLowerCase() + sentence.slice(1);

/** Start and length of each stretch of one state, in the order of `navigation.feeds`. */
export function feedFigures(reconstruction: Reconstruction): readonly StretchFigures[] {
  const { navigation } = reconstruction;
  if (navigation === null) return [];
  const origin = originOf(reconstruction, navigation);
  const { feeds } = navigation;
  return feeds.map((feed, index) =>
    stretchFigures(origin, startOf(feed), endOf(feed, feeds[index + 1])),
  );
}

/**
 * How long all stretches together last in which no accepted measurement fed the solution.
 *
 * An edge between two of them moves neither end of the whole, so that it adds nothing to the half-width.
 *
 * @returns null where there are none; its half-width is null where no edge has one
 */
export function unfedFigure(reconstruction: Reconstruction): Figure | null {
  const { navigation } = reconstruction;
  if (navigation === null) return null;
  const { feeds } = navigation;
  const isUnfed = (index: number): boolean => (feeds[index]?.kind ?? 'measured') !== 'measured';
  const lengths = feedFigures(reconstruction).filter((_, index) => isUnfed(index));
  if (lengths.length === 0) return null;
  const halves = feeds.flatMap((feed, index) => {
    const { half } = startOf(feed);
    return half === null || isUnfed(index) === isUnfed(index - 1) ? [] : [half];
  });
  return figureOf(originOf(reconstruction, navigation), {
    value: lengths.reduce((sum, { lengthS }) => sum + (lengthS.value ?? 0), 0),
    unit: 's',
    random: halves.length === 0 ? null : Math.hypot(...halves),
    method:
      'Lengths of all stretches that were carried on, refused or are not explained, added up. A gap, in which there are no rows at all, is in none of them.',
  });
}

/** Start and length of a stretch that was missing or not used, as the checks of the data tell it. */
export function unusedFigures(
  reconstruction: Reconstruction,
  { kind, what, channel, fromS, toS, note }: UnusedStretch,
): StretchFigures | null {
  const { navigation } = reconstruction;
  if (navigation === null) return null;
  const { sources } = originOf(reconstruction, navigation);
  const channels = channel === null ? navigation.solution.channels : [channel];
  const told = `as the checks of the data found it (${what}): ${note}.`;
  const [first, last] =
    kind === 'gap'
      ? ['The last row before it', 'The first row after it']
      : ['Its first row', 'Its last row'];
  return stretchFigures(
    { sources, channels },
    { atS: fromS, half: null, method: `${first}, ${told}` },
    { atS: toS, half: null, method: `${last}, ${told}` },
  );
}
