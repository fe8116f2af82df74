/** A velocity that is given in other axes than its position, named and sized. */
import { NORMAL_95 } from '../math/statistics';
import { findTurning } from '../navigation/turning-axes';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { figureOf } from './figure-of';
import type { TurningAxes } from './navigation-report';

/** Orbits from the lowest to some 2000 km, s. */
const LOW_ORBITS_S = [5200, 7700] as const;

function column(source: CheckedSource, as: string) {
  return source.channels.find(({ channel }) => channel.as === as)?.channel;
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
    return [
      {
        axis,
        differenceMps: figureOf(
          { sources: origin.sources, channels: [axial.name, position.name, velocity.name] },
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
      },
    ];
  });
}
