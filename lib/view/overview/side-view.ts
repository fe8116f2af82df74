/** The approach from the side, as geometry in a drawing of fixed size: no numbers are left to a component. */
import { corridorsOf } from '../../core/approach/stations';
import { flownAgain, type RunKind, runKind } from '../../core/reconstruction/flight-course';
import { RUN_WORDS } from '../../core/reconstruction/kind-words';
import type { Phase, Reconstruction } from '../../core/reconstruction/reconstruction';
import { nameOfRun } from '../../core/reconstruction/run-name';
import { nameFromId } from '../../core/session/name-from-id';
import { formatNumber } from '../../core/units/number-text';
import { fitText } from '../charts/label-layout';
import { niceTicks } from './nice-ticks';

/**
 * Estimated positions in time order; NaN where there is none. What lies across is signed or a
 * distance: with `sides` both, the axis stands in the middle whatever was flown.
 */
export type SideTrack = Readonly<{
  axialM: Float64Array;
  sides?: 'both';
  across: readonly Readonly<{ label: string; valuesM: Float64Array }>[];
}>;

export type SideTick = Readonly<{ at: number; text: string }>;
export type SideMark = Readonly<{
  x: number;
  y: number;
  text: string;
  labelX: number;
  labelY: number;
  isPlanned: boolean;
}>;

export type SideView = Readonly<{
  width: number;
  height: number;
  plot: Readonly<{ left: number; right: number; top: number; bottom: number }>;
  axisY: number;
  stretch: string;
  lines: readonly Readonly<{ label: string; path: string; dashed: boolean }>[];
  corridor: Readonly<{
    paths: readonly string[];
    text: string;
    x: number;
    y: number;
    anchor: 'start' | 'end';
  }> | null;
  marks: readonly SideMark[];
  xTicks: readonly SideTick[];
  yTicks: readonly SideTick[];
  /** Where a place stands: x - along metres x perMetreX, y - across metres x perMetreY. */
  origin: Readonly<{ x: number; y: number; perMetreX: number; perMetreY: number }>;
}>;

const WIDTH = 660;
const LEFT = 46;
const RIGHT = 646;
const PLOT_HEIGHT = 200;
/** Room under the plot for ticks and the name of the axis. */
const FOOT_PX = 42;
/** Mean width of a character of the labels' 13 px type, px. */
const CHARACTER_PX = 6.9;
const LABEL_FONT_PX = 13;
/** A longer name is cut: it stands in full in the table of steps. */
const LABEL_MOST_PX = 240;
const LABEL_ROW_PX = 18;

type Plot = SideView['plot'];

type Scale = Readonly<{ x: (axialM: number) => number; y: (acrossM: number) => number }>;

/** @returns null where no position along the axis was estimated */
export function sideView(reconstruction: Reconstruction, track: SideTrack): SideView | null {
  const farM = Math.max(...[...track.axialM].filter(Number.isFinite));
  if (!Number.isFinite(farM) || farM <= 0) return null;
  const cone = corridorOf(reconstruction);
  const sizes = track.across.flatMap(({ valuesM }) => [...valuesM].filter(Number.isFinite));
  const low = Math.min(0, ...sizes);
  const largest = Math.max(0.5, ...sizes.map(Math.abs));
  const isSigned = low < 0 || track.sides === 'both';
  // The corridor may be far wider than the flight: it is drawn as far as the flight's own scale shows it.
  const topM = largest * 1.25;
  const bottomM = isSigned ? -topM : 0;
  const perMetreX = (RIGHT - LEFT - 12) / farM;
  const perMetreY = PLOT_HEIGHT / (topM - bottomM);
  const x = (axialM: number) => RIGHT - axialM * perMetreX;
  const wanted = placeLabels(holdMarks(reconstruction, x));
  const markXs = wanted.marks.map((mark) => mark.x);
  const top = 10 + wanted.rows * LABEL_ROW_PX;
  const plot: Plot = { left: LEFT, right: RIGHT, top, bottom: top + PLOT_HEIGHT };
  const scale: Scale = { x, y: (acrossM) => plot.bottom - (acrossM - bottomM) * perMetreY };
  return {
    width: WIDTH,
    height: plot.bottom + FOOT_PX,
    plot,
    axisY: scale.y(0),
    stretch: stretchText(perMetreY / perMetreX),
    lines: track.across.map(({ label, valuesM }, index) => ({
      label,
      path: linePath(track.axialM, valuesM, scale),
      dashed: index > 0,
    })),
    corridor: cone === null ? null : corridorPaths(cone, { farM, topM, isSigned, markXs }, scale),
    marks: wanted.marks.map((mark) => ({ ...mark, y: scale.y(0) })),
    xTicks: niceTicks(0, farM, 6).map((m) => ({ at: scale.x(m), text: formatNumber(m, 0) })),
    yTicks: niceTicks(bottomM, topM, 4).map((m) => ({ at: scale.y(m), text: tickText(m, topM) })),
    origin: { x: RIGHT, y: scale.y(0), perMetreX, perMetreY },
  };
}

export function stretchText(ratio: number): string {
  if (ratio < 1.5) return 'both ways on one scale';
  const factor = ratio < 10 ? formatNumber(ratio, 1) : formatNumber(ratio, 0);
  return `distances from the axis stretched ${factor} times`;
}

function tickText(acrossM: number, topM: number): string {
  return formatNumber(acrossM, topM < 1 ? 2 : topM < 10 ? 1 : 0);
}

function linePath(axialM: Float64Array, acrossM: Float64Array, scale: Scale): string {
  let path = '';
  let isDown = false;
  for (const [index, x] of axialM.entries()) {
    const y = acrossM[index] ?? Number.NaN;
    if (!Number.isFinite(x) || !Number.isFinite(y)) {
      isDown = false;
      continue;
    }
    path += `${isDown ? 'L' : 'M'}${scale.x(x).toFixed(1)} ${scale.y(y).toFixed(1)}`;
    isDown = true;
  }
  return path;
}

type Cone = Readonly<{ halfAngleRad: number; floorM: number; fromM: number; toM: number }>;

/** The first rule that keeps the lateral offset inside a cone. */
function corridorOf(reconstruction: Reconstruction): Cone | null {
  for (const { limit, axialM, rangeM } of corridorsOf(reconstruction.ruleSet)) {
    if (limit.kind !== 'cone') continue;
    const [fromM, toM] = axialM ?? rangeM ?? [0, Infinity];
    return { halfAngleRad: limit.halfAngleRad, floorM: limit.floorM, fromM, toM };
  }
  return null;
}

function corridorPaths(
  cone: Cone,
  frame: Readonly<{ farM: number; topM: number; isSigned: boolean; markXs: readonly number[] }>,
  scale: Scale,
): SideView['corridor'] {
  const { halfAngleRad, floorM } = cone;
  const { markXs } = frame;
  const slope = Math.tan(halfAngleRad);
  // Where the cone leaves the drawing at its top, or where the rule stops, whichever is nearer.
  const endM = Math.min(cone.toM, frame.farM, frame.topM / slope);
  const kneeM = Math.min(endM, Math.max(cone.fromM, floorM / slope));
  const edge = (axialM: number) => Math.max(floorM, axialM * slope);
  const points = [cone.fromM, kneeM, endM];
  const line = (sign: number) =>
    points
      .map((axialM, index) => {
        const y = scale.y(sign * edge(axialM)).toFixed(1);
        return `${index === 0 ? 'M' : 'L'}${scale.x(axialM).toFixed(1)} ${y}`;
      })
      .join('');
  const degrees = formatNumber((halfAngleRad * 180) / Math.PI, 1).replace(/\.0$/, '');
  const text = `corridor ${degrees} deg`;
  const widthPx = text.length * CHARACTER_PX;
  // Beside the line on the side of the port, as far out as it fits clear of every mark.
  const spots = [0.92, 0.75, 0.6, 0.45, 0.3].map((part) => kneeM + part * (endM - kneeM));
  const isClear = (axialM: number, roomPx: number): boolean => {
    const from = scale.x(axialM) + 10;
    const to = from + widthPx;
    return to < WIDTH && !markXs.some((x) => x > from - roomPx && x < to + roomPx);
  };
  const spotM = spots.find((axialM) => isClear(axialM, 4));
  const atM = spotM ?? (kneeM + endM) / 2;
  const y = scale.y(edge(atM)) + (spotM === undefined ? 12 : 0);
  // Under the edge of the drawing, and so much farther from the line, which falls towards the port.
  const dropPx = Math.max(0, scale.y(frame.topM) + 13 - y);
  return {
    paths: frame.isSigned ? [line(1), line(-1)] : [line(1)],
    text,
    x: scale.x(atM) + (spotM === undefined ? -10 : 10 + 2 * dropPx),
    y: y + dropPx,
    anchor: spotM === undefined ? 'end' : 'start',
  };
}

type WantedMark = Omit<SideMark, 'y' | 'labelX' | 'labelY'>;
type PlacedMark = Omit<SideMark, 'y'>;

/** Holds and turning points on the axis. */
function holdMarks(
  reconstruction: Reconstruction,
  x: (axialM: number) => number,
): readonly WantedMark[] {
  return reconstruction.phases.flatMap((phase, index) => {
    const rangeM = phase.rangeEndM.value;
    if (rangeM === null || phase.motion === 'closing') return [];
    const isPlanned = phase.step !== null;
    const again = flownAgain(reconstruction, index);
    const text =
      again === null
        ? markText(phase, runKind(reconstruction, index), rangeM)
        : fitText(nameOfRun(reconstruction, index), LABEL_MOST_PX, LABEL_FONT_PX);
    return [{ x: x(rangeM), text, isPlanned }];
  });
}

function markText(phase: Phase, kind: RunKind, rangeM: number): string {
  if (phase.step !== null) return fitText(nameFromId(phase.step), LABEL_MOST_PX, LABEL_FONT_PX);
  const range = `${formatNumber(rangeM, rangeM < 10 ? 1 : 0)} m`;
  return phase.motion === 'opening'
    ? `${RUN_WORDS[kind]} to ${range}`
    : `unplanned ${RUN_WORDS[kind]} ${range}`;
}

/** Labels stand in rows above the plot, each in the lowest row where it covers no other. */
function placeLabels(
  marks: readonly WantedMark[],
): Readonly<{ marks: readonly PlacedMark[]; rows: number }> {
  const rows: (readonly [from: number, to: number])[][] = [];
  const placed = [...marks]
    .sort((a, b) => a.x - b.x)
    .map((mark) => {
      const width = mark.text.length * CHARACTER_PX + 10;
      const left = Math.min(Math.max(mark.x - 6, LEFT), WIDTH - width);
      let row = 0;
      while ((rows[row] ?? []).some(([from, to]) => left < to && left + width > from)) row += 1;
      rows[row] = [...(rows[row] ?? []), [left, left + width]];
      return { mark, left, row };
    });
  return {
    rows: rows.length,
    marks: placed.map(({ mark, left, row }) => ({
      ...mark,
      labelX: left + 5,
      labelY: (rows.length - row) * LABEL_ROW_PX,
    })),
  };
}
