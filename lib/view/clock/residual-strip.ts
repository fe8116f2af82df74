/** Residuals of a clock over session time, on a strip with a scale of its own. */
import { linearTicks } from '../../core/debrief/plot-axis';
import { formatSigned } from '../../core/units/number-text';
import type { ClockItem } from './clock-items';
import { type MarkShape, markPath, px, shapeOf } from './mark-shape';

export type DrawnTick = Readonly<{ at: number; text: string }>;
export type Box = Readonly<{ left: number; right: number; top: number; bottom: number }>;

export type ResidualStrip = Readonly<{
  side: 'before' | 'after';
  title: string;
  box: Box;
  yTicks: readonly DrawnTick[];
  /** Height of no residual; null where it lies outside the scale. */
  zero: number | null;
  marks: readonly Readonly<{
    key: string;
    shape: MarkShape;
    path: string;
    spread: string | null;
    title: string;
  }>[];
}>;

const TITLES: Readonly<Record<ResidualStrip['side'], string>> = {
  before: "residual before, s: by the source's own time",
  after: 'residual after, s: by its clock, with one standard deviation',
};

type Point = Readonly<{ item: ClockItem; atS: number; residualS: number; sdS: number }>;

type Frame = Readonly<{ x: (tS: number) => number; box: Box }>;

export function residualStrip(
  items: readonly ClockItem[],
  side: ResidualStrip['side'],
  { x, box }: Frame,
): ResidualStrip {
  const points = items.flatMap((item) => pointOf(item, side));
  const scale = scaleOf(points, side);
  const y = (residualS: number) =>
    box.bottom - ((residualS - scale.low) / (scale.high - scale.low)) * (box.bottom - box.top);
  const hasZero = scale.low <= 0 && scale.high >= 0;
  return {
    side,
    title: TITLES[side],
    box,
    yTicks: linearTicks(scale.low, scale.high, 4).map(({ at, text }) => ({ at: y(at), text })),
    zero: hasZero ? y(0) : null,
    marks: points.map(({ item, atS, residualS, sdS }) => ({
      key: item.key,
      shape: shapeOf(item),
      path: markPath(shapeOf(item), x(atS), y(residualS)),
      spread:
        sdS === 0 ? null : `M${px(x(atS))} ${px(y(residualS - sdS))}V${px(y(residualS + sdS))}`,
      title: `${item.words} ${formatSigned(residualS, 2)} s (${item.state})`,
    })),
  };
}

function pointOf(item: ClockItem, side: ResidualStrip['side']): readonly Point[] {
  const { tie } = item;
  const residualS = side === 'before' ? tie?.residualBeforeS : tie?.residualS;
  if (tie === null || residualS === null || residualS === undefined) return [];
  const sdS = side === 'after' ? (tie.sdS ?? 0) : 0;
  return [{ item, atS: item.sessionS, residualS, sdS }];
}

/** All points with some room; after the clock zero is in view too. */
function scaleOf(
  points: readonly Point[],
  side: ResidualStrip['side'],
): Readonly<{ low: number; high: number }> {
  const ends = points.flatMap(({ residualS, sdS }) => [residualS - sdS, residualS + sdS]);
  const values = side === 'after' || ends.length === 0 ? [0, ...ends] : ends;
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const roomS = Math.max((high - low) * 0.15, 0.1);
  return { low: low - roomS, high: high + roomS };
}
