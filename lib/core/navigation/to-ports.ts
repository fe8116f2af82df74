/** A position between two points of the bodies, brought to their docking ports. */
import { slidingLine } from '../math/sliding-line';
import { median } from '../math/statistics';
import { takeSamples } from '../series/samples';
import type { Vector } from '../session/measured-points';
import { type RotationColumns, turnedVector } from './attitude-track';

/** Position and velocity along x, y and z, columns over the same rows; NaN = no sample. */
export type PointMotion = Readonly<{
  tS: Float64Array;
  positionM: readonly Float64Array[];
  /** null where no velocity is measured. */
  velocityMps: readonly Float64Array[] | null;
  /** A longer step is a gap, s. */
  longestStepS: number;
}>;

/**
 * What brings it there. `targetFrom` turns the axes of the position into those of the target's port
 * (null where they are these), `vehicleInTarget` the vehicle's axes likewise (null where its arm is
 * none). Arms lead from the measured point to the port, each in its own body's axes.
 */
export type PortGeometry = Readonly<{
  targetFrom: RotationColumns | null;
  vehicleInTarget: RotationColumns | null;
  vehicleArmM: Vector;
  targetArmM: Vector;
  /** Time between updates of the slower attitude, s. */
  attitudeStepS: number;
}>;

export type PortMotion = Readonly<{
  positionM: readonly Float64Array[];
  velocityMps: readonly Float64Array[] | null;
  /** Noise that an arm's own turn brings into the velocity, standard deviation, m/s. */
  rateSdMps: number;
  /**
   * Noise that the turn of the axes brings into it along x, y and z, standard deviation at each row, m/s;
   * null where the axes are those of the port already.
   */
  turnSdMps: readonly Float64Array[] | null;
}>;

/** Turns are differentiated over straight lines of at least this span to either side, s. */
const HALF_SPAN_S = 1;
const FEWEST = 3;

type Rates = Readonly<{ slope: Float64Array; sd: number }>;

/** Slope of a column at each row, by straight lines that do not run across a gap, with its noise. */
function ratesOf(values: Float64Array, tS: Float64Array, over: RateSpan): Rates {
  const n = tS.length;
  const column = () => new Float64Array(n).fill(Number.NaN);
  const out = { value: column(), slope: column(), leverage: column(), slopeLeverage: column() };
  let from = 0;
  while (from < n) {
    if (Number.isNaN(values[from])) {
      from++;
      continue;
    }
    let to = from + 1;
    while (
      to < n &&
      !Number.isNaN(values[to]) &&
      (tS[to] ?? 0) - (tS[to - 1] ?? 0) <= over.longestStepS
    )
      to++;
    slidingLine({ tS, values, from, to }, over.halfSpanS, FEWEST, { atS: tS, from, to, ...out });
    // A row by itself tells no rate.
    if (to === from + 1) out.slope[from] = Number.NaN;
    from = to;
  }
  const { sd, stepS } = takeSamples(tS, values, null);
  const middle = n >> 1;
  // Rows between two updates repeat what these say: only updates count.
  const perUpdate = Math.max(1, over.attitudeStepS / stepS);
  const ofMiddle = out.slopeLeverage[middle] ?? Number.NaN;
  // The middle may lie in a gap, and noise of no size would be said of all of it.
  const leverage = Number.isFinite(ofMiddle) ? ofMiddle : median(out.slopeLeverage);
  const noise = (sd[sd.length >> 1] ?? 0) * Math.sqrt(Number.isFinite(leverage) ? leverage : 0);
  return { slope: out.slope, sd: noise * Math.sqrt(perUpdate) };
}

type RateSpan = Readonly<{ halfSpanS: number; longestStepS: number; attitudeStepS: number }>;

const IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const;

/** Sum over the three parts of a row of a matrix times a vector, at each time. */
function product(
  matrix: readonly (Float64Array | number)[],
  axis: number,
  vector: readonly Float64Array[],
): Float64Array {
  const n = vector[0]?.length ?? 0;
  const out = new Float64Array(n);
  for (let k = 0; k < 3; k++) {
    const element = matrix[3 * axis + k] ?? 0;
    if (element === 0) continue;
    for (let row = 0; row < n; row++) {
      const factor = typeof element === 'number' ? element : (element[row] ?? Number.NaN);
      out[row] = (out[row] ?? 0) + factor * (vector[k]?.[row] ?? Number.NaN);
    }
  }
  return out;
}

/**
 * Noise of a turn about each axis of the port, from that of the slopes of its matrix's nine elements.
 *
 * A small turn e moves row y of the matrix by e_x row z - e_z row x, and rows are at right angles and of
 * length 1: so the squares of a row's three noises add up to those of the turns about the other two axes.
 *
 * @param sd of the slopes, row by row, 1/s
 * @returns standard deviations about x, y and z, rad/s; a difference below zero is none
 *
 * Source: elementary; checked against simulated noise and by hand in the tests.
 */
export function turnNoise(sd: readonly number[]): Vector {
  const [ofX, ofY, ofZ] = [0, 3, 6].map((row) =>
    [0, 1, 2].reduce((sum, column) => sum + (sd[row + column] ?? 0) ** 2, 0),
  );
  const about = (one = 0, two = 0, own = 0) => Math.sqrt(Math.max(0, (one + two - own) / 2));
  return [about(ofY, ofZ, ofX), about(ofX, ofZ, ofY), about(ofX, ofY, ofZ)];
}

/** What a noisy turn does to the velocity of a point so far away: the size of d omega x r along each axis. */
function turnedNoise([x, y, z]: Vector, awayM: readonly Float64Array[]): readonly Float64Array[] {
  const across = (one: number, oneAxis: number, two: number, twoAxis: number) =>
    Float64Array.from(awayM[0] ?? [], (_, row) =>
      Math.hypot(
        one * (awayM[oneAxis]?.[row] ?? Number.NaN),
        two * (awayM[twoAxis]?.[row] ?? Number.NaN),
      ),
    );
  return [across(y, 2, z, 1), across(z, 0, x, 2), across(y, 0, x, 1)];
}

/**
 * Position and velocity of the vehicle's port relative to the target's, in the target port's axes.
 *
 * With M from the position's axes to the port's, C from the vehicle's axes to the port's, and arms a
 * (vehicle) and b (target): r = M r' + C a - b, v = M v' + (dM/dt) r' + (dC/dt) a. The last term is
 * omega x r of the arm, with omega from the attitude's own change over 2 s, so that it is the turn
 * against the very axes that the velocity is taken in. The noise of that change, times the distance, is
 * in dM/dt r': it hangs together over the 2 s, so that it shows in no scatter from row to row.
 *
 * @returns NaN where an attitude that is needed is not known
 *
 * Valid: rigid bodies; turns that are straight over 2 s.
 * Source: elementary; a 5 m arm turns 1 deg into 0.0873 m and 0.2 deg/s into 0.01745 m/s (recomputed).
 */
export function toPorts(motion: PointMotion, geometry: PortGeometry): PortMotion {
  const { tS, positionM, velocityMps, longestStepS } = motion;
  const { targetFrom, vehicleInTarget, vehicleArmM, targetArmM, attitudeStepS } = geometry;
  const over = {
    halfSpanS: Math.max(HALF_SPAN_S, 1.5 * attitudeStepS),
    longestStepS,
    attitudeStepS,
  };
  const arm = vehicleInTarget === null ? null : turnedVector(vehicleInTarget, vehicleArmM);
  const matrix = targetFrom ?? IDENTITY;
  const awayM = [0, 1, 2].map((axis) => product(matrix, axis, positionM));
  const position = awayM.map((column, axis) => {
    const away = targetArmM[axis] ?? 0;
    return column.map((m, row) => m + (arm === null ? 0 : (arm[axis]?.[row] ?? Number.NaN)) - away);
  });
  if (velocityMps === null) {
    return { positionM: position, velocityMps: null, rateSdMps: 0, turnSdMps: null };
  }
  const armRates = arm?.map((column) => ratesOf(column, tS, over)) ?? null;
  const turnRates = targetFrom?.map((column) => ratesOf(column, tS, over)) ?? null;
  const turning = turnRates?.map(({ slope }) => slope) ?? null;
  const velocity = [0, 1, 2].map((axis) => {
    const column = product(matrix, axis, velocityMps);
    const turned = turning === null ? null : product(turning, axis, positionM);
    const ofArm = armRates?.[axis]?.slope ?? null;
    return column.map((mps, row) => mps + (turned?.[row] ?? 0) + (ofArm?.[row] ?? 0));
  });
  return {
    positionM: position,
    velocityMps: velocity,
    rateSdMps: Math.max(0, ...(armRates ?? []).map(({ sd }) => sd)),
    turnSdMps:
      turnRates === null ? null : turnedNoise(turnNoise(turnRates.map(({ sd }) => sd)), awayM),
  };
}
