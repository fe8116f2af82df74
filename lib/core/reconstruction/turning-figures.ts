/** A velocity that is given in other axes than its position, named, sized, and told by its sense. */
import { NORMAL_95 } from '../math/statistics';
import { findTurning, type Turning } from '../navigation/turning-axes';
import type { OrbitTurn } from '../session/measured-points';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { figureOf } from './figure-of';
import type { TurningAxes } from './navigation-report';

/** Orbits from the lowest to some 2000 km, s. */
const LOW_ORBITS_S = [5200, 7700] as const;
/** A turn is the stated one, or a multiple of it, within this share of it. */
const NEAR = 0.2;

function column(source: CheckedSource, as: string) {
  return source.channels.find(({ channel }) => channel.as === as)?.channel;
}

type Axis = TurningAxes['axis'];

/**
 * The turn of the axes that an inertial velocity would explain it by, about the axis across both the
 * distance and the component: with r along x the part of -omega x r along y is -omega_z x, along z
 * omega_y x.
 */
function turnAbout(axis: Axis, turnRadPerS: number): number {
  return axis === 'y' ? -turnRadPerS : turnRadPerS;
}

/** What is found against the turn stated, as a multiple of it; null where none is stated about that axis. */
function shareOf(axis: Axis, turnRadPerS: number, orbit: OrbitTurn | undefined): number | null {
  if (orbit === undefined) return null;
  const stated = orbit.rateRadPerS * orbit.normal[axis === 'y' ? 2 : 1];
  return stated === 0 ? null : turnAbout(axis, turnRadPerS) / stated;
}

function isNear(share: number, wanted: number): boolean {
  return Math.abs(share - wanted) < NEAR * Math.abs(wanted);
}

/** What the turn found in the velocity that is used says about what session.yaml states. */
function readingOf(
  axis: Axis,
  { turnRadPerS }: Turning,
  source: CheckedSource,
): TurningAxes['reading'] {
  const { orbit, velocityFrame } = source.source.declared;
  const share = shareOf(axis, turnRadPerS, orbit);
  if (source.reference?.velocity === 'turned') {
    if (share !== null && isNear(share, -1)) return 'turned-twice';
    if (share !== null && isNear(share, -2)) return 'normal-reversed';
    return 'other';
  }
  if (velocityFrame === 'inertial') return 'as-stated';
  if (orbit === undefined) return 'inertial';
  if (share !== null && isNear(share, 1)) return 'inertial-by-orbit';
  if (share !== null && isNear(share, -1)) return 'against-orbit';
  return 'other';
}

/** @returns one for each axis across, y and z, whose velocity does not belong to its position's axes */
export function turningAxes({ source, origin }: SessionMotion): readonly TurningAxes[] {
  const axial = column(source, 'position.x');
  return (['y', 'z'] as const).flatMap((axis): TurningAxes[] => {
    const position = column(source, `position.${axis}`);
    const velocity = column(source, `velocity.${axis}`);
    if (axial === undefined || position === undefined || velocity === undefined) return [];
    const found = findTurning({
      tS: source.tS,
      axialM: axial.values,
      acrossM: position.values,
      acrossMps: velocity.values,
      longestStepS: source.longestStepS,
    });
    if (found === null) return [];
    const orbitS = (2 * Math.PI) / Math.abs(found.turnRadPerS);
    const [low, high] = LOW_ORBITS_S;
    const about = turnAbout(axis, found.turnRadPerS);
    return [
      {
        axis,
        differenceMps: figureOf(
          { ...origin, channels: [axial.name, position.name, velocity.name] },
          {
            value: found.turnRadPerS * found.furthestM,
            unit: 'm/s',
            random: NORMAL_95 * found.standardError * found.furthestM,
            method:
              'Rate of the position less the velocity, over spans of 30 s, as a share of the distance along the axis: the median of the outer half, at the furthest distance.',
            fromS: found.fromS,
            toS: found.toS,
          },
        ),
        distanceM: found.furthestM,
        orbitS: orbitS >= low && orbitS <= high ? orbitS : null,
        isDeclared: source.source.declared.velocityFrame === 'inertial',
        about: `${about < 0 ? '-' : ''}${axis === 'y' ? 'z' : 'y'}`,
        reading: readingOf(axis, found, source),
      },
    ];
  });
}
