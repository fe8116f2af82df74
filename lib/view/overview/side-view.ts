/** The approach from the side, as geometry in a drawing of fixed size: no numbers are left to a component. */
import type { Phase, Reconstruction } from '../../core/reconstruction/reconstruction';
import type { QuantityRule } from '../../core/session/rule';
import { formatNumber } from '../format-number';
import { nameFromId } from '../labels';
import { niceTicks } from './nice-ticks';

/** Estimated positions in time order; NaN where there is none. `acrossM` is signed or a distance. */
export type SideTrack = Readonly<{
  axialM: Float64Array;
  across: readonly Readonly<{ label: string; valuesM: Float64Array }>[];
}>;

export type SideTick = Readonly<{ at: number; text: string }>;
export type SideMark = Readonly<{
  x: number;
  y: number;
  text: string;
  labelX: number;
  labelY: number;
  anchor: 'start' | 'middle' | 'end';
  isPlanned: boolean;
}>;

export type SideView = Readonly<{
  width: number;
  height: number;
  plot: Readonly<{ left: number; right: number; top: number; bottom: number }>;
  axisY: number;
  stretch: string;
  lines: readonly Readonly<{ label: string; path: string; dashed: boolean }>[];
  corridor: Readonly<{ paths: readonly string[]; text: string; x: number; y: number }> | null;
  marks: readonly SideMark[];
  xTicks: readonly SideTick[];
  yTicks: readonly SideTick[];
}>;

const WIDTH = 660;
const HEIGHT = 330;
const PLOT = { left: 46, right: 646, top: 92, bottom: 290 };
/** Mean width of a character of the labels' 13 px type, px. */
const CHARACTER_PX = 6.9;
const LABEL_ROW_PX = 18;

type Scale = Readonly<{ x: (axialM: number) => number; y: (acrossM: number) => number }>;

/** @returns null where no position along the axis was estimated */
export function sideView(reconstruction: Reconstruction, track: SideTrack): SideView | null {
  const farM = Math.max(...[...track.axialM].filter(Number.isFinite));
  if (!Number.isFinite(farM) || farM <= 0) return null;
  const cone = corridorOf(reconstruction);
  const sizes = track.across.flatMap(({ valuesM }) => [...valuesM].filter(Number.isFinite));
  const low = Math.min(0, ...sizes);
  const largest = Math.max(0.5, ...sizes.map(Math.abs));
  const isSigned = low < 0;
  // The corridor may be far wider than the flight: it is drawn as far as the flight's own scale shows it.
  const topM = largest * 1.25;
  const bottomM = isSigned ? -topM : 0;
  const scale: Scale = {
    x: (axialM) => PLOT.right - (axialM / farM) * (PLOT.right - PLOT.left - 12),
    y: (acrossM) =>
      PLOT.bottom - ((acrossM - bottomM) / (topM - bottomM)) * (PLOT.bottom - PLOT.top),
  };
  const perMetreX = (PLOT.right - PLOT.left - 12) / farM;
  const perMetreY = (PLOT.bottom - PLOT.top) / (topM - bottomM);
  return {
    width: WIDTH,
    height: HEIGHT,
    plot: PLOT,
    axisY: scale.y(0),
    stretch: stretchText(perMetreY / perMetreX),
    lines: track.across.map(({ label, valuesM }, index) => ({
      label,
      path: linePath(track.axialM, valuesM, scale),
      dashed: index > 0,
    })),
    corridor: cone === null ? null : corridorPaths(cone, { farM, topM, isSigned }, scale),
    marks: placeLabels(holdMarks(reconstruction, scale)),
    xTicks: niceTicks(0, farM, 6).map((m) => ({ at: scale.x(m), text: formatNumber(m, 0) })),
    yTicks: niceTicks(bottomM, topM, 4).map((m) => ({ at: scale.y(m), text: tickText(m, topM) })),
  };
}

function stretchText(ratio: number): string {
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
  const rule = reconstruction.ruleSet.find(
    (each): each is QuantityRule => each.kind === 'quantity' && each.limit.kind === 'cone',
  );
  if (rule?.limit.kind !== 'cone') return null;
  const [fromM, toM] = rule.within?.axialM ?? rule.within?.rangeM ?? [0, Infinity];
  return { halfAngleRad: rule.limit.halfAngleRad, floorM: rule.limit.floorM, fromM, toM };
}

function corridorPaths(
  cone: Cone,
  frame: Readonly<{ farM: number; topM: number; isSigned: boolean }>,
  scale: Scale,
): SideView['corridor'] {
  const { halfAngleRad, floorM } = cone;
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
  return {
    paths: frame.isSigned ? [line(1), line(-1)] : [line(1)],
    text: `corridor, half angle ${degrees} deg`,
    x: scale.x(endM),
    y: scale.y(edge(endM)),
  };
}

type WantedMark = Omit<SideMark, 'labelX' | 'labelY' | 'anchor'>;

/** Holds and turning points on the axis. */
function holdMarks({ phases }: Reconstruction, scale: Scale): readonly WantedMark[] {
  return phases.flatMap((phase) => {
    const rangeM = phase.rangeEndM.value;
    if (rangeM === null || phase.motion === 'closing') return [];
    return [
      {
        x: scale.x(rangeM),
        y: scale.y(0),
        text: markText(phase, rangeM),
        isPlanned: phase.step !== null,
      },
    ];
  });
}

function markText(phase: Phase, rangeM: number): string {
  if (phase.step !== null) return nameFromId(phase.step);
  const range = `${formatNumber(rangeM, rangeM < 10 ? 1 : 0)} m`;
  return phase.motion === 'opening' ? `back-off to ${range}` : `unplanned ${phase.motion} ${range}`;
}

/** Labels stand in rows above the drawing, each in the lowest row where it covers no other. */
function placeLabels(marks: readonly WantedMark[]): readonly SideMark[] {
  const rows: number[][][] = [];
  return [...marks]
    .sort((a, b) => a.x - b.x)
    .map((mark) => {
      const width = mark.text.length * CHARACTER_PX + 10;
      const left = Math.min(Math.max(mark.x - 6, PLOT.left), WIDTH - width);
      let row = 0;
      while ((rows[row] ?? []).some(([from = 0, to = 0]) => left < to && left + width > from)) {
        row += 1;
      }
      rows[row] = [...(rows[row] ?? []), [left, left + width]];
      const labelY = PLOT.top - 12 - row * LABEL_ROW_PX;
      return { ...mark, labelX: left + 5, labelY, anchor: 'start' as const };
    });
}
