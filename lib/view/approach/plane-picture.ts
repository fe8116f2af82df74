/** The approach in a plane through the docking axis: from the side (z) or from above (y). */
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { type SideView, sideView } from '../overview/side-view';
import { type ApproachTrack, middleAt, middles } from './approach-track';
import type { Picture, PictureMark, PictureText } from './picture';
import { placeIn } from './picture';

export type Plane = Readonly<{
  id: 'side' | 'above';
  title: string;
  column: 'offset_z' | 'offset_y';
  axis: 'z' | 'y';
}>;

export const PLANES: readonly Plane[] = [
  { id: 'side', title: 'From the side', column: 'offset_z', axis: 'z' },
  { id: 'above', title: 'From above', column: 'offset_y', axis: 'y' },
];

/** Two values a part, least and greatest, at the part's middle along the axis. */
function zigzag(track: ApproachTrack, column: string) {
  const along = middles(track, 'axial_distance');
  const axialM = new Float64Array(along.length * 2);
  const valuesM = new Float64Array(along.length * 2);
  const range = track.columns.get(column);
  along.forEach((alongM, part) => {
    axialM.fill(alongM, part * 2, part * 2 + 2);
    valuesM[part * 2] = range?.low[part] ?? Number.NaN;
    valuesM[part * 2 + 1] = range?.high[part] ?? Number.NaN;
  });
  return { axialM, valuesM };
}

function leastMark(
  reconstruction: Reconstruction,
  plane: Plane,
  view: SideView,
): readonly (PictureMark & Readonly<{ text: PictureText }>)[] {
  const least = reconstruction.approach?.stations.find(({ kind }) => kind === 'least-clearance');
  const alongM = least?.axialM.value ?? null;
  const acrossM = (plane.axis === 'z' ? least?.zM.value : least?.yM.value) ?? null;
  if (alongM === null || acrossM === null) return [];
  const { origin, plot } = view;
  const place = placeIn(
    plot,
    origin.x - alongM * origin.perMetreX,
    origin.y - acrossM * origin.perMetreY,
  );
  if (place === null) return [];
  const [x, y] = place;
  const isLeft = x > (plot.left + plot.right) / 2;
  const isHigh = y < (plot.top + plot.bottom) / 2;
  const text: PictureText = {
    x: x + (isLeft ? -9 : 9),
    y: y + (isHigh ? -9 : 20),
    text: 'least clearance',
    tone: 'mark',
    anchor: isLeft ? 'end' : 'start',
  };
  return [{ x, y, tone: 'least', leader: null, text }];
}

/** @returns null where no position along and across the axis was estimated */
export function planePicture(
  reconstruction: Reconstruction,
  track: ApproachTrack,
  plane: Plane,
): Picture | null {
  const { axialM, valuesM } = zigzag(track, plane.column);
  if (!valuesM.some(Number.isFinite)) return null;
  const view = sideView(reconstruction, {
    axialM,
    sides: 'both',
    across: [{ label: plane.axis, valuesM }],
  });
  if (view === null) return null;
  const least = leastMark(reconstruction, plane, view);
  const { origin, plot } = view;
  const texts: readonly PictureText[] = [
    ...(view.corridor === null
      ? []
      : [{ ...view.corridor, tone: 'limit' as const, text: view.corridor.text }]),
    ...view.marks.map(
      (mark): PictureText => ({
        x: mark.labelX,
        y: mark.labelY,
        text: mark.text,
        tone: mark.isPlanned ? 'mark' : 'unplanned',
        anchor: 'start',
      }),
    ),
    ...least.map(({ text }) => text),
  ];
  return {
    id: plane.id,
    title: plane.title,
    label: `${plane.title}: ${plane.axis} over distance from the port, ${view.stretch}. ${view.marks.map(({ text }) => text).join(', ')}.`,
    caption: `Port at the right; ${view.stretch}. ${
      view.corridor === null
        ? 'No rule gives a corridor.'
        : 'The corridor is cut along the axis: the distance from the axis is held against it, not one of its parts.'
    }`,
    width: view.width,
    height: view.height,
    plot,
    xTicks: view.xTicks,
    yTicks: view.yTicks,
    xName: 'm from the port',
    yName: `${plane.axis}, m`,
    areas: [],
    lines: [
      { path: `M${plot.left} ${view.axisY}H${plot.right}`, tone: 'axis' },
      ...(view.corridor?.paths ?? []).map((path) => ({ path, tone: 'limit' as const })),
      ...view.lines.map(({ path }) => ({ path, tone: 'flown' as const })),
    ],
    texts,
    marks: [
      ...view.marks.map(
        (mark): PictureMark => ({
          x: mark.x,
          y: mark.y,
          tone: mark.isPlanned ? 'planned' : 'unplanned',
          leader: `M${mark.x} ${mark.y}V${mark.labelY + 4}`,
        }),
      ),
      ...least.map(({ x, y, tone, leader }) => ({ x, y, tone, leader })),
    ],
    places: Array.from(track.tS, (_, part) =>
      placeIn(
        plot,
        origin.x - middleAt(track, 'axial_distance', part) * origin.perMetreX,
        origin.y - middleAt(track, plane.column, part) * origin.perMetreY,
      ),
    ),
  };
}
