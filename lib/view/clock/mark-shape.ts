/** Shapes of marks on the clock's drawing: each state and kind has its own, so none needs a colour. */
import type { ClockItem } from './clock-items';

export type MarkShape = 'circle' | 'diamond' | 'bar' | 'cross' | 'triangle' | 'square';

/** Corners of each shape in units of its half size, clockwise; a circle is none. */
const CORNERS: Readonly<
  Record<Exclude<MarkShape, 'circle'>, readonly (readonly [number, number])[]>
> = {
  diamond: [
    [0, -1.25],
    [1.25, 0],
    [0, 1.25],
    [-1.25, 0],
  ],
  bar: [
    [-0.45, -1.5],
    [0.45, -1.5],
    [0.45, 1.5],
    [-0.45, 1.5],
  ],
  cross: [
    [0, -0.45],
    [0.8, -1.25],
    [1.25, -0.8],
    [0.45, 0],
    [1.25, 0.8],
    [0.8, 1.25],
    [0, 0.45],
    [-0.8, 1.25],
    [-1.25, 0.8],
    [-0.45, 0],
    [-1.25, -0.8],
    [-0.8, -1.25],
  ],
  triangle: [
    [0, -1.2],
    [1.2, 0.95],
    [-1.2, 0.95],
  ],
  square: [
    [-0.95, -0.95],
    [0.95, -0.95],
    [0.95, 0.95],
    [-0.95, 0.95],
  ],
};

/** What each shape stands for, in the order of the key. */
export const SHAPE_WORDS: Readonly<Record<MarkShape, string>> = {
  circle: 'spoken range, used',
  diamond: 'contact or capture called',
  bar: 'tie point',
  cross: 'rejected',
  triangle: 'doubtful',
  square: 'left out',
};

const HALF_PX = 4.5;

export function shapeOf({ kind, state }: Pick<ClockItem, 'kind' | 'state'>): MarkShape {
  if (state === 'rejected') return 'cross';
  if (state === 'doubtful') return 'triangle';
  if (state === 'left out') return 'square';
  if (kind === 'event') return 'diamond';
  return kind === 'range' ? 'circle' : 'bar';
}

/** The outline of a mark about a point of the drawing. */
export function markPath(shape: MarkShape, x: number, y: number): string {
  const size = HALF_PX;
  if (shape === 'circle') {
    const left = `${px(x - size)} ${px(y)}`;
    return `M${left}a${size} ${size} 0 1 0 ${2 * size} 0a${size} ${size} 0 1 0 ${-2 * size} 0Z`;
  }
  const corners = CORNERS[shape].map(([dx, dy]) => `${px(x + dx * size)} ${px(y + dy * size)}`);
  return `M${corners.join('L')}Z`;
}

/** A tenth of a pixel is finer than any screen shows. */
export function px(value: number): string {
  return value.toFixed(1);
}
