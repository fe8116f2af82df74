/** Reads one zone of plan.yaml. */
import { nameFromId } from './name-from-id';
import type { Report } from './schema-issues';
import type { KeyPath } from './yaml-text';
import type { Zone } from './zone';
import type { ZoneData } from './zone-schema';

/**
 * Reads a zone.
 *
 * @param path key path of the zone
 * @returns the zone, its title made from the id where none is given
 */
export function readZone(data: ZoneData, path: KeyPath, report: Report): Zone {
  const axialM = data.axial_m ?? null;
  if (axialM !== null && !(axialM[0] < axialM[1])) {
    report([...path, 'axial_m'], {
      code: 'bounds-reversed',
      message: `must be [from, to] with from below to, found [${axialM[0]}, ${axialM[1]}]`,
      expected: '[from, to]',
      received: `[${axialM[0]}, ${axialM[1]}]`,
    });
  }
  return {
    id: data.id,
    title: data.title ?? nameFromId(data.id),
    shape:
      'within_m' in data
        ? { kind: 'sphere', radiusM: data.within_m }
        : { kind: 'ellipsoid', semiAxesM: data.semi_axes_m },
    axialM,
  };
}
