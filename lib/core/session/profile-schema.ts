/** Parts that the plan and the rules share: names and profiles over range. */
import { z } from 'zod';
import type { RangeProfile } from './plan';
import type { Report } from './schema-issues';
import type { KeyPath } from './yaml-text';

/** Ids stand in key paths and addresses, so brackets and control characters are out. */
export const idSchema = z
  .string()
  .min(1)
  .max(120)
  .regex(/^[^\u0000-\u001f[\]]+$/, 'text without brackets and control characters');

/** What makes files versions of one plan, or of one rule set, wherever they come from. */
export const registerIdSchema = idSchema
  .optional()
  .describe('Files of the same id are versions of one another, wherever they come from.');

export const pairSchema = z.tuple([z.number(), z.number()]);

export const profileSchema = z
  .array(pairSchema)
  .min(1)
  .max(1000)
  .describe('Points [range_m, rate_mps], linear between points and held outside them.');

/**
 * A profile with its ranges ascending.
 *
 * Points may be written with the range rising or falling throughout; anything else is reported.
 */
export function readProfile(
  points: readonly (readonly [number, number])[],
  path: KeyPath,
  report: Report,
): RangeProfile {
  const falling = points.length > 1 && (points[0]?.[0] ?? 0) > (points[1]?.[0] ?? 0);
  const profile = falling ? [...points].reverse() : points;
  for (let index = 1; index < profile.length; index += 1) {
    const before = profile[index - 1]?.[0] ?? 0;
    const here = profile[index]?.[0] ?? 0;
    if (here > before) continue;
    const written = falling ? points.length - 1 - index : index;
    report([...path, written], {
      code: 'profile-not-ascending',
      message: `the ranges of a profile must rise (or fall) from point to point, found ${here} m after ${before} m`,
      expected: falling ? `less than ${before} m` : `more than ${before} m`,
      received: `${here} m`,
    });
    return profile;
  }
  return profile;
}
