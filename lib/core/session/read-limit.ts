/** The limit of a quantity rule, in SI, held against the quantity it bounds. */
import { siUnitOfQuantity } from '../units/quantity';
import { findUnit, RADIANS_PER_DEGREE, spellingsOf } from '../units/unit';
import { readProfile } from './profile-schema';
import type { Limit } from './rule';
import type { LimitData } from './rules-schema';
import type { Report } from './schema-issues';
import type { KeyPath } from './yaml-text';

/** A limit in SI and the unit that the rule's margins are shown in. */
export type LimitWithUnit = Readonly<{ limit: Limit; unit: string }>;

/** Reports a limit whose kind does not fit the quantity's unit. */
function reportMisfit(quantity: string, needed: string, path: KeyPath, report: Report): void {
  const siUnit = siUnitOfQuantity(quantity);
  if (siUnit === null || siUnit === needed) return;
  report(path, {
    code: 'limit-misfit',
    message: `this limit is in ${needed}, but ${quantity} is in ${siUnit}`,
    expected: `a limit in ${siUnit}`,
    received: `a limit in ${needed}`,
  });
}

function readConstant(
  data: Readonly<{ constant: number; unit: string | number }>,
  quantity: string,
  path: KeyPath,
  report: Report,
): LimitWithUnit {
  const spelling = String(data.unit);
  const unit = findUnit(spelling);
  const needed = siUnitOfQuantity(quantity);
  if (needed !== null && unit?.siUnit !== needed) {
    const allowed = spellingsOf(needed).join(', ');
    report([...path, 'unit'], {
      code: 'unit-wrong',
      message: `the unit of ${quantity} is one of ${allowed}, found "${spelling}"`,
      expected: `one of ${allowed}`,
      received: spelling,
    });
  } else if (unit === null) {
    report([...path, 'unit'], {
      code: 'unit-not-known',
      severity: 'warning',
      message: `the unit "${spelling}" is not known; the limit is compared as written`,
      received: spelling,
    });
  }
  return {
    limit: { kind: 'constant', value: data.constant * (unit?.toSi ?? 1) },
    unit: spelling,
  };
}

/**
 * Reads a limit.
 *
 * @param quantity the quantity it bounds
 * @param path key path of the limit
 * @returns the limit in SI and radians with the unit for margins
 */
export function readLimit(
  data: LimitData,
  quantity: string,
  path: KeyPath,
  report: Report,
): LimitWithUnit {
  if ('constant' in data) return readConstant(data, quantity, path, report);
  if ('by' in data) {
    reportMisfit(quantity, 'm/s', path, report);
    const points = readProfile(data.points_m_mps, [...path, 'points_m_mps'], report);
    return { limit: { kind: 'by-range', points }, unit: 'm/s' };
  }
  if (quantity !== 'lateral_offset') {
    report([...path, 'cone'], {
      code: 'limit-misfit',
      message: `a cone bounds lateral_offset, found it on ${quantity}`,
      expected: 'quantity: lateral_offset',
      received: quantity,
    });
  }
  const { half_angle_deg: halfAngleDeg, floor_m: floorM } = data.cone;
  return {
    limit: { kind: 'cone', halfAngleRad: halfAngleDeg * RADIANS_PER_DEGREE, floorM },
    unit: 'm',
  };
}
