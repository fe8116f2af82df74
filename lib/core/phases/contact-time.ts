/** The instant of contact. */
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';
import type { Samples } from '../series/samples';
import { carriedContact, carriedPastEnd } from './carried-contact';

export type ContactTime = Readonly<{
  timeS: number;
  /** 95 % half-width, s; `null` where a log gives the instant, whose accuracy is not stated. */
  halfS: number | null;
  /** `declared`: a person's word; else as found. */
  basis: 'crossing' | 'extrapolated' | 'event' | 'declared';
}>;

/** Data may end this long before contact for the axial rate to carry the position on, s. */
export const LONGEST_EXTRAPOLATION_S = 2;
/** An approach has been this far from the plane before it crosses it (docked data waver about it), m. */
const CAME_FROM_M = 0.5;
/** Farther from the axis than this a vehicle passes the plane and touches nothing, m; wider than any docking ring. */
const PASSES_BY_M = 5;
/** Where the motion stops this close to the plane, it stopped at it (the mechanism gives), m. */
const STOPPED_AT_PLANE_M = 0.05;

function half(motion: MotionEstimate, row: number, aheadS: number, rateMps: number): number {
  const position = motion.axialSdM[row] ?? 0;
  const rate = (motion.axialClosingSdMps[row] ?? 0) * aheadS;
  const resolution = 0.475 * (aheadS > 0 ? 0 : motion.stepS);
  return Math.hypot((NORMAL_95 * Math.hypot(position, rate)) / rateMps, resolution);
}

/** True where the vehicle is so far beside the axis that the plane is passed, not touched. */
function passesBy(motion: MotionEstimate, row: number): boolean {
  return (motion.lateralM[row] ?? Number.NaN) > PASSES_BY_M;
}

/** First row at which the axial distance has come down to the plane, from well before it. */
function crossing(motion: MotionEstimate, planeM: number): ContactTime | null {
  let farthestM = Number.NEGATIVE_INFINITY;
  for (const span of motion.stretches) {
    for (let row = span.from + 1; row < span.to; row++) {
      const before = motion.axialM[row - 1] ?? Number.NaN;
      const here = motion.axialM[row] ?? Number.NaN;
      if (before > farthestM) farthestM = before;
      if (!(before > planeM && here <= planeM)) continue;
      if (farthestM < planeM + CAME_FROM_M || passesBy(motion, row)) continue;
      const fromS = motion.tS[row - 1] ?? Number.NaN;
      const toS = motion.tS[row] ?? Number.NaN;
      const timeS = fromS + ((before - planeM) / (before - here)) * (toS - fromS);
      const rateMps = Math.max(motion.axialClosingMps[row - 1] ?? 0, 1e-3);
      return { timeS, halfS: half(motion, row - 1, 0, rateMps), basis: 'crossing' };
    }
  }
  return null;
}

/** First row from which the plane is reached before the next row, though the data then stop short. */
function stoppedAtPlane(motion: MotionEstimate, planeM: number): ContactTime | null {
  let farthestM = Number.NEGATIVE_INFINITY;
  for (let row = 1; row + 1 < motion.tS.length; row++) {
    farthestM = Math.max(farthestM, motion.axialM[row] ?? farthestM);
    if (farthestM < planeM + CAME_FROM_M) continue;
    const restM = (motion.axialM[row] ?? Number.NaN) - planeM;
    const rateMps = motion.axialClosingMps[row] ?? Number.NaN;
    if (!(restM < STOPPED_AT_PLANE_M && restM > 0 && rateMps > 0)) continue;
    if (passesBy(motion, row)) continue;
    const nextMps = motion.axialClosingMps[row + 1] ?? Number.NaN;
    const timeS = (motion.tS[row] ?? Number.NaN) + restM / rateMps;
    if (
      nextMps < 0.5 * rateMps &&
      timeS - (motion.tS[row] ?? Number.NaN) <= LONGEST_EXTRAPOLATION_S
    ) {
      return { timeS, halfS: half(motion, row, restM / rateMps, rateMps), basis: 'crossing' };
    }
  }
  return null;
}

function extrapolated(motion: MotionEstimate, planeM: number): ContactTime | null {
  let row = motion.tS.length - 1;
  while (row >= 0 && Number.isNaN(motion.axialM[row])) row--;
  if (row < 0 || passesBy(motion, row)) return null;
  const restM = (motion.axialM[row] ?? Number.NaN) - planeM;
  const rateMps = motion.axialClosingMps[row] ?? Number.NaN;
  const aheadS = restM / rateMps;
  if (!(rateMps > 0 && aheadS >= 0 && aheadS <= LONGEST_EXTRAPOLATION_S)) return null;
  return {
    timeS: (motion.tS[row] ?? Number.NaN) + aheadS,
    halfS: half(motion, row, aheadS, rateMps),
    basis: 'extrapolated',
  };
}

/** A position this many standard deviations of one sample from the plane may be at it. */
const NEAR_SDS = 3;

/** Since when, up to a crossing, the position has been as near to the plane as its noise is large, s. */
function nearPlane(
  motion: MotionEstimate,
  axial: Samples,
  { planeM, untilS }: Readonly<{ planeM: number; untilS: number }>,
): number {
  let row = lowerBound(motion.tS, untilS);
  for (; row > 0; row--) {
    const near = lowerBound(axial.tS, motion.tS[row - 1] ?? untilS);
    const sdM = Math.hypot(axial.sd[near] ?? 0, axial.slowSd?.[near] ?? 0);
    if ((motion.axialM[row - 1] ?? Number.NaN) - planeM > NEAR_SDS * sdM) break;
  }
  return Math.min(untilS, motion.tS[row] ?? untilS);
}

/** The axial position's updates where velocity is not measured. */
function axialAlone({ samples, channels, basis }: MotionEstimate): Samples | undefined {
  return basis === 'position-only' ? samples.get(channels[0] ?? '') : undefined;
}

/** Without measured velocity, as the motion before it carries it there where that tells it better. */
function beforeStop(motion: MotionEstimate, planeM: number, across: ContactTime): ContactTime {
  const axial = axialAlone(motion);
  if (axial === undefined || across.halfS === null) return across;
  const { timeS, halfS } = across;
  const nearS = nearPlane(motion, axial, { planeM, untilS: timeS });
  const carried = carriedContact(axial, planeM, { timeS, halfS, nearS });
  return carried === null ? across : { ...carried, basis: 'crossing' };
}

/** Without measured velocity, as the last minutes of data carry it on where that tells it better. */
function pastEnd(motion: MotionEstimate, planeM: number, ahead: ContactTime): ContactTime {
  const axial = axialAlone(motion);
  const carried = axial === undefined ? null : carriedPastEnd(axial, planeM);
  if (carried === null || !(carried.halfS < (ahead.halfS ?? 0))) return ahead;
  return { ...carried, basis: ahead.basis };
}

/**
 * When the axial distance reaches the plane of first touch: by crossing, or carried on by the axial
 * rate where data end up to 2 s before, else the logged event. Where the plane is passed more than 5 m beside
 * the axis (a fly-around, a drift past the target after a break-off) nothing is touched.
 *
 * @param motion the estimated motion; `null` where nothing was estimated
 * @param planeM axial distance at first touch, m
 * @param loggedS time of the first event `contact`, s; `null` for none
 * @returns the instant; `null` when there is none. Of several crossings the first is reported
 */
export function findContactTime(
  motion: MotionEstimate | null,
  planeM: number,
  loggedS: number | null,
): ContactTime | null {
  if (motion !== null) {
    const crossed = crossing(motion, planeM);
    const stopped = stoppedAtPlane(motion, planeM);
    const first =
      crossed !== null && stopped !== null && stopped.timeS < crossed.timeS ? stopped : crossed;
    const across = first ?? stopped;
    if (across !== null) return beforeStop(motion, planeM, across);
    const measured = extrapolated(motion, planeM);
    if (measured !== null) return pastEnd(motion, planeM, measured);
  }
  return loggedS === null ? null : { timeS: loggedS, halfS: null, basis: 'event' };
}
