/** Other ranges against the solution's: bias and scatter as a table, the differences as a picture. */
import type { PairDifferences, RangePair } from '../../core/reconstruction/navigation-report';
import { formatCount, formatNumber } from '../../core/units/number-text';
import { type FigureView, figureView } from '../figure-view';
import { type DifferencePicture, differencePicture } from './difference-picture';

/** Points of all pictures of a screen together. */
const MOST_POINTS = 2000;

export type PairView = Readonly<{
  key: string;
  title: string;
  counted: string;
  points: string;
  bias: FigureView;
  scatter: FigureView;
  /** null where its differences are not kept. */
  picture: DifferencePicture | null;
  bands: readonly Readonly<{ key: string; range: string; bias: FigureView; scatter: FigureView }>[];
}>;

function pointsNote({ points }: RangePair): string {
  const said = (text: string | null) => text ?? 'between points not stated';
  if (points.first !== null && points.first === points.second) return `Both ${points.first}.`;
  return `The first ${said(points.first)}, the second ${said(points.second)}: a bias may be the way between the points.`;
}

function pairView(
  pair: RangePair,
  index: number,
  { sessionId, picture }: Readonly<{ sessionId: string; picture: DifferencePicture | null }>,
): PairView {
  const title = `${pair.second} less ${pair.first}`;
  const options = (what: string) => ({ sessionId, label: `${title}, ${what}` });
  return {
    key: `pair-${index}`,
    title,
    counted: `${formatCount(pair.count)} differences, worth ${formatCount(Math.floor(pair.independent))} independent ones`,
    points: pointsNote(pair),
    bias: figureView(pair.biasM, { ...options('bias'), form: 'signed' }),
    scatter: figureView(pair.scatterM, options('scatter')),
    picture,
    bands: pair.bands.map((band) => {
      const range =
        band.fromM === null
          ? `beyond ${formatNumber(band.toM, 0)} m`
          : band.toM === 0
            ? `inside ${formatNumber(band.fromM, 0)} m`
            : `${formatNumber(band.fromM, 0)} to ${formatNumber(band.toM, 0)} m`;
      return {
        key: range,
        range,
        bias: figureView(band.biasM, { ...options(`bias, ${range}`), form: 'signed' }),
        scatter: figureView(band.scatterM, options(`scatter, ${range}`)),
      };
    }),
  };
}

/** The pictures of all pairs share the points that a screen draws. */
function pictureOf(
  pair: RangePair,
  differences: readonly PairDifferences[],
): DifferencePicture | null {
  const own = differences.find(
    ({ first, second }) => first === pair.first && second === pair.second,
  );
  return differencePicture(pair, own, Math.floor(MOST_POINTS / differences.length));
}

/** @param differences what the pairs' figures are formed from; none where they are not kept */
export function pairViews(
  pairs: readonly RangePair[],
  differences: readonly PairDifferences[],
  sessionId: string,
): readonly PairView[] {
  return pairs.map((pair, index) =>
    pairView(pair, index, { sessionId, picture: pictureOf(pair, differences) }),
  );
}
