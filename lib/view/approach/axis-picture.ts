/** The approach seen along the docking axis: y and z on one scale, the corridor as circles. */
import { corridorRadiusM, corridorsOf } from '../../core/approach/stations';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { formatNumber } from '../../core/units/number-text';
import { niceTicks } from '../overview/nice-ticks';
import { type ApproachTrack, middleAt } from './approach-track';
import {
  CHARACTER_PX,
  type Picture,
  type PictureLine,
  type PictureText,
  pathOf,
  placeIn,
} from './picture';

const WIDTH = 660;
const HEIGHT = 460;
/** A square in the middle, with room for ticks and names. */
const PLOT = { left: 126, right: 534, top: 10, bottom: 418 } as const;
const MIDDLE_X = (PLOT.left + PLOT.right) / 2;
const MIDDLE_Y = (PLOT.top + PLOT.bottom) / 2;
const HALF_PX = (PLOT.right - PLOT.left) / 2;
/** Distances at which the corridor is drawn, m: the largest that fit, three at most. */
const ROUND_M = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000] as const;
const MOST_CIRCLES = 3;
/** Height of a line of text. */
const LINE_PX = 15;
/** A corridor so many times as wide as the flight is still drawn round it. */
const WIDEST_SHARE = 10;

function circlePath(radiusPx: number): string {
  const r = radiusPx.toFixed(1);
  const left = (MIDDLE_X - radiusPx).toFixed(1);
  const right = (MIDDLE_X + radiusPx).toFixed(1);
  return `M${left} ${MIDDLE_Y}A${r} ${r} 0 1 1 ${right} ${MIDDLE_Y}A${r} ${r} 0 1 1 ${left} ${MIDDLE_Y}Z`;
}

/** The tightest corridor, where it is not so wide that the flight would be lost in it; 0 otherwise. */
function tightestM({ ruleSet }: Reconstruction, largestM: number): number {
  const radii = corridorsOf(ruleSet).flatMap(({ limit, axialM }) => {
    const radiusM = corridorRadiusM(limit, axialM?.[0] ?? 0);
    return radiusM === null ? [] : [radiusM];
  });
  const radiusM = Math.min(...radii);
  return radiusM <= WIDEST_SHARE * largestM ? radiusM : 0;
}

type Circle = Readonly<{ radiusM: number; text: string }>;

/** The corridor at round distances, from the tightest outwards; each radius once. */
function circlesOf(reconstruction: Reconstruction, mostM: number): readonly Circle[] {
  const [corridor] = corridorsOf(reconstruction.ruleSet);
  if (corridor === undefined) return [];
  const { limit } = corridor;
  if (limit.kind === 'constant')
    return [{ radiusM: limit.value, text: `limit ${formatNumber(limit.value, 2)} m` }];
  const [fromM, toM] = corridor.axialM ?? [0, Number.POSITIVE_INFINITY];
  const circles: Circle[] = [];
  for (const atM of [fromM, ...ROUND_M.filter((m) => m > fromM && m <= toM)]) {
    const radiusM = corridorRadiusM(limit, atM);
    if (radiusM === null || radiusM > mostM) continue;
    const last = circles.at(-1);
    const circle = { radiusM, text: `corridor at ${formatNumber(atM, 0)} m` };
    if (last !== undefined && radiusM - last.radiusM < 0.08 * mostM) circles.pop();
    circles.push(circle);
  }
  return circles.slice(-MOST_CIRCLES);
}

/** @returns null where the offsets along y and z were not estimated */
export function axisPicture(
  reconstruction: Reconstruction,
  track: ApproachTrack,
): (Picture & Readonly<{ spanM: number }>) | null {
  const y = track.columns.get('offset_y');
  const z = track.columns.get('offset_z');
  if (y === undefined || z === undefined) return null;
  let largestM = 0;
  for (const values of [y.low, y.high, z.low, z.high])
    for (const value of values)
      if (Number.isFinite(value)) largestM = Math.max(largestM, Math.abs(value));
  if (largestM === 0) return null;
  const topM = Math.max(largestM * 1.15, tightestM(reconstruction, largestM) * 1.1);
  const perMetre = HALF_PX / topM;
  const at = (yM: number, zM: number) =>
    [MIDDLE_X + yM * perMetre, MIDDLE_Y - zM * perMetre] as const;
  const places = Array.from(track.tS, (_, part) => {
    const [px, py] = at(middleAt(track, 'offset_y', part), middleAt(track, 'offset_z', part));
    return placeIn(PLOT, px, py);
  });
  const circles = circlesOf(reconstruction, topM);
  const ticks = niceTicks(-topM, topM, 6);
  const text = (m: number) => formatNumber(m, topM < 1 ? 2 : topM < 10 ? 1 : 0);
  const least = leastPlace(reconstruction, at);
  const lines: readonly PictureLine[] = [
    { path: `M${PLOT.left} ${MIDDLE_Y}H${PLOT.right}`, tone: 'axis' },
    { path: `M${MIDDLE_X} ${PLOT.top}V${PLOT.bottom}`, tone: 'axis' },
    ...circles.map(({ radiusM }) => ({
      path: circlePath(radiusM * perMetre),
      tone: 'limit' as const,
    })),
    { path: pathOf(places), tone: 'flown' },
  ];
  return {
    id: 'along',
    title: 'Along the docking axis',
    label: `Seen along the docking axis: z over y, both on one scale, up to ${formatNumber(topM, 1)} m from the axis. ${circles.map((circle) => `${circle.text}: ${formatNumber(circle.radiusM, 2)} m`).join(', ')}.`,
    caption: `Both ways on one scale; seen from where y grows to the right and z upwards.${
      circles.length === 0
        ? ''
        : ' Circles are the corridor at the distances written on them; at the marked moment it stands as a circle of its own.'
    }`,
    width: WIDTH,
    height: HEIGHT,
    plot: PLOT,
    xTicks: ticks.map((m) => ({ at: at(m, 0)[0], text: text(m) })),
    yTicks: ticks.map((m) => ({ at: at(0, m)[1], text: text(m) })),
    xName: 'y, m',
    yName: 'z, m',
    areas: [],
    lines,
    texts: [...circles.map((circle) => circleText(circle, perMetre, least.texts)), ...least.texts],
    marks: least.marks,
    places,
    spanM: 2 * topM,
  };
}

/** Over its circle; under it where another text stands there. */
function circleText(
  { radiusM, text }: Circle,
  perMetre: number,
  others: readonly PictureText[],
): PictureText {
  const over = MIDDLE_Y - radiusM * perMetre - 4;
  const halfPx = (text.length * CHARACTER_PX) / 2;
  const isTaken = others.some((other) => {
    const widthPx = other.text.length * CHARACTER_PX;
    const left = other.anchor === 'end' ? other.x - widthPx : other.x;
    const isBeside = left > MIDDLE_X + halfPx || left + widthPx < MIDDLE_X - halfPx;
    return !isBeside && Math.abs(other.y - over) < LINE_PX;
  });
  const y = isTaken ? MIDDLE_Y + radiusM * perMetre + 14 : over;
  return { x: MIDDLE_X, y, text, tone: 'limit', anchor: 'middle' };
}

function leastPlace(
  { approach }: Reconstruction,
  at: (yM: number, zM: number) => readonly [number, number],
): Pick<Picture, 'marks' | 'texts'> {
  const least = approach?.stations.find(({ kind }) => kind === 'least-clearance');
  const yM = least?.yM.value ?? null;
  const zM = least?.zM.value ?? null;
  if (yM === null || zM === null) return { marks: [], texts: [] };
  const [px, py] = at(yM, zM);
  if (placeIn(PLOT, px, py) === null) return { marks: [], texts: [] };
  const isLeft = px > MIDDLE_X;
  return {
    marks: [{ x: px, y: py, tone: 'least', leader: null }],
    texts: [
      {
        x: px + (isLeft ? -9 : 9),
        y: py + 16,
        text: 'least clearance',
        tone: 'mark',
        anchor: isLeft ? 'end' : 'start',
      },
    ],
  };
}
