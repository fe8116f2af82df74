/** A picture of the approach as geometry: what a component draws without a number of its own. */

export type PictureId = 'side' | 'above' | 'along' | 'rate';

export type PictureLine = Readonly<{
  path: string;
  tone: 'flown' | 'plan' | 'limit' | 'axis';
}>;

export type PictureText = Readonly<{
  x: number;
  y: number;
  text: string;
  tone: 'flown' | 'plan' | 'limit' | 'mark' | 'unplanned';
  anchor: 'start' | 'middle' | 'end';
}>;

/** A dot with its words; `leader` is a thin line from the dot to them. */
export type PictureMark = Readonly<{
  x: number;
  y: number;
  tone: 'planned' | 'unplanned' | 'least';
  leader: string | null;
}>;

export type PictureTick = Readonly<{ at: number; text: string }>;

export type Picture = Readonly<{
  id: PictureId;
  title: string;
  /** What a reader who does not see it should know: axes, scale, what lies in it. */
  label: string;
  caption: string;
  width: number;
  height: number;
  plot: Readonly<{ left: number; right: number; top: number; bottom: number }>;
  xTicks: readonly PictureTick[];
  yTicks: readonly PictureTick[];
  xName: string;
  yName: string;
  areas: readonly string[];
  lines: readonly PictureLine[];
  texts: readonly PictureText[];
  marks: readonly PictureMark[];
  /** Where each part of the flight stands, px to a tenth; null where it is not in the picture. */
  places: readonly (readonly [x: number, y: number] | null)[];
}>;

/** Mean width of a character of the pictures' 13 px type, px. */
export const CHARACTER_PX = 6.9;

export function pathOf(points: readonly (readonly [number, number] | null)[]): string {
  let path = '';
  let isDown = false;
  for (const point of points) {
    if (point === null || !Number.isFinite(point[0]) || !Number.isFinite(point[1])) {
      isDown = false;
      continue;
    }
    path += `${isDown ? 'L' : 'M'}${point[0].toFixed(1)} ${point[1].toFixed(1)}`;
    isDown = true;
  }
  return path;
}

/** A place to the tenth of a pixel; null where it is not known or outside the plot. */
export function placeIn(
  plot: Picture['plot'],
  x: number,
  y: number,
): readonly [number, number] | null {
  const isInside =
    x >= plot.left - 0.5 && x <= plot.right + 0.5 && y >= plot.top - 0.5 && y <= plot.bottom + 0.5;
  return isInside ? [Math.round(x * 10) / 10, Math.round(y * 10) / 10] : null;
}
