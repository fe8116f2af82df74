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
    if (!(restM > 0 && rateMps > 0) || passesBy(motion, row)) continue;
    const timeS = (motion.tS[row] ?? Number.NaN) + restM / rateMps;
    const nextRestM = (motion.axialM[row + 1] ?? Number.NaN) - planeM;
    const isBetween =
      Math.abs(nextRestM) < STOPPED_AT_PLANE_M && timeS <= (motion.tS[row + 1] ?? Number.NaN);
    if (!(restM < STOPPED_AT_PLANE_M || isBetween)) continue;
    const nextMps = motion.axialClosingMps[row + 1] ?? Number.NaN;
    if (
      nextMps < 0.5 * rateMps &&
      timeS - (motion.tS[row] ?? Number.NaN) <= LONGEST_EXTRAPOLATION_S
    ) {
      return { timeS, halfS: half(motion, row, restM / rateMps, rateMps), basis: 'crossing' };
    }
  }
  return null;
}

/** The last row with an axial distance; -1 for none. */
function lastPlaced({ axialM }: MotionEstimate): number {
  return axialM.findLastIndex((value) => !Number.isNaN(value));
}

/**
 * Where noise leaves open whether data end so long before contact or a little longer, they may seem to end this long
 * before it, s. Our own choice.
 */
const LONGEST_SEEMING_S = 2 * LONGEST_EXTRAPOLATION_S;

/** Without measured velocity, where the last 300 s of data carry it on to in the time allowed, as far as they tell. */
function carriedOpen(motion: MotionEstimate, planeM: number): ContactTime | null {
  const axial = axialAlone(motion);
  const carried = axial === undefined ? null : carriedPastEnd(axial, planeM);
  const row = lastPlaced(motion);
  if (carried === null || passesBy(motion, row)) return null;
  const aheadS = carried.timeS - (motion.tS[row] ?? Number.NaN);
  const isOpen = aheadS - carried.halfS <= LONGEST_EXTRAPOLATION_S && aheadS <= LONGEST_SEEMING_S;
  return isOpen ? { ...carried, basis: 'extrapolated' } : null;
}

function extrapolated(motion: MotionEstimate, planeM: number): ContactTime | null {
  const row = lastPlaced(motion);
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

/** A position this many standard deviations from the plane may be at it. */
const NEAR_SDS = 3;
/** A rate that has come down to this share of the approach's has been stopped, and at this it was still flown. */
const STOPPED_SHARE = 0.2;
const FLOWN_SHARE = 0.9;
/** A position is off by so much for all one knows of it, m; our own choice. */
const NEAR_M = 0.1;
/** A crossing so long after the stop is that of a later motion, s. */
const LONGEST_STOP_S = 10;
/** The approach's rate is that so long before the stop, s. */
const BEFORE_STOP_S = 5;

/**
 * The stop before a crossing, where the rate is measured: within 10 cm or its own 3 standard deviations of the plane
 * the position does not tell the instant, and slow noise of it may put the crossing seconds behind the stop.
 */
function stoppedBefore(
  motion: MotionEstimate,
  planeM: number,
  across: ContactTime,
): ContactTime | null {
  if (motion.basis !== 'measured-velocity') return null;
  const { tS, axialM, axialSdM, axialClosingMps: closing } = motion;
  const end = lowerBound(tS, across.timeS);
  let row = end;
  const isNear = (at: number): boolean =>
    (axialM[at] ?? Number.NaN) - planeM <= Math.max(NEAR_M, NEAR_SDS * (axialSdM[at] ?? 0));
  while (row > 0 && isNear(row - 1)) row--;
  const near = row;
  const flownMps = closing[lowerBound(tS, (tS[row] ?? 0) - BEFORE_STOP_S)] ?? Number.NaN;
  while (row < end && !((closing[row] ?? Number.NaN) < STOPPED_SHARE * flownMps)) row++;
  if (!(flownMps > 0) || row >= end) return null;
  const isFlown = (at: number): boolean => (closing[at] ?? Number.NaN) >= FLOWN_SHARE * flownMps;
  let last = row;
  while (last >= near && !isFlown(last)) last--;
  if (!isFlown(last)) return null;
  const [fromS, toS] = [tS[last] ?? across.timeS, tS[row] ?? across.timeS];
  if (across.timeS - fromS > LONGEST_STOP_S) return null;
  const halfS = Math.max(toS - fromS, motion.stepS);
  return across.halfS !== null && across.timeS - fromS <= halfS
    ? null
    : { timeS: Math.min(tS[last + 1] ?? toS, toS), halfS, basis: 'crossing' };
}

/**
 * The last sample before a crossing that was farther from the plane than its noise is large, s (one that stands alone
 * may be noise). Samples, not the estimate: that is smoothed across the stop, and comes near late.
 */
function nearPlane(
  axial: Samples,
  { planeM, untilS }: Readonly<{ planeM: number; untilS: number }>,
): number {
  const isFar = (row: number): boolean => {
    const sdM = Math.hypot(axial.sd[row] ?? 0, axial.slowSd?.[row] ?? 0);
    return (axial.values[row] ?? Number.NaN) - planeM > NEAR_SDS * sdM;
  };
  let row = lowerBound(axial.tS, untilS) - 1;
  while (row > 0 && !(isFar(row) && isFar(row - 1))) row--;
  return Math.min(untilS, axial.tS[Math.max(0, row)] ?? untilS);
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
  const nearS = nearPlane(axial, { planeM, untilS: timeS });
  const carried = carriedContact(axial, planeM, { timeS, halfS, nearS });
  return carried === null ? across : { ...carried, basis: 'crossing' };
}

/** Without measured velocity, as the last 300 s of data carry it on where that tells it better. */
function pastEnd(motion: MotionEstimate, planeM: number, ahead: ContactTime): ContactTime {
  const axial = axialAlone(motion);
  const carried = axial === undefined ? null : carriedPastEnd(axial, planeM);
  if (carried === null || !(carried.halfS < (ahead.halfS ?? 0))) return ahead;
  return { ...carried, basis: ahead.basis };
}

/**
 * When the axial distance reaches the plane of first touch: by crossing, or carried on by the axial
 * rate where data end up to 2 s before, else the logged event; without one up to 4 s before, where noise
 * leaves open whether it is 2. Where the plane is passed more than 5 m beside the axis (a fly-around, a drift
 * past the target after a break-off) nothing is touched.
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
    if (across !== null)
      return stoppedBefore(motion, planeM, across) ?? beforeStop(motion, planeM, across);
    const measured = extrapolated(motion, planeM);
    if (measured !== null) return pastEnd(motion, planeM, measured);
    const open = loggedS === null ? carriedOpen(motion, planeM) : null;
    if (open !== null) return open;
  }
  return loggedS === null ? null : { timeS: loggedS, halfS: null, basis: 'event' };
}
