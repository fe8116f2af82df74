/** The part of plan.yaml about zones. */
import { z } from 'zod';
import { idSchema, pairSchema } from './profile-schema';

const about = {
  id: idSchema.describe('Name of the zone, part of the keys of its figures.'),
  title: z
    .string()
    .min(1)
    .max(120)
    .optional()
    .describe('What people call it. Default: made from the id.'),
};

const cut = pairSchema
  .optional()
  .describe('Only the part between these axial distances, m. Default: all of it.');

const sphereSchema = z
  .strictObject({
    ...about,
    within_m: z.number().positive().describe('Distance from the target point, m.'),
    axial_m: cut,
  })
  .describe('A sphere: within a distance of the target point.');

const semiAxis = z.number().positive();

const ellipsoidSchema = z
  .strictObject({
    ...about,
    semi_axes_m: z
      .tuple([semiAxis, semiAxis, semiAxis])
      .describe('Semi-axes along the x, y and z of the position, m.'),
    axial_m: cut,
  })
  .describe('An ellipsoid about the target point, along the axes of the position.');

export const zonesSchema = z
  .array(z.union([sphereSchema, ellipsoidSchema]))
  .max(50)
  .describe('Zones about the target point whose entry and exit are found in the motion.');

export type ZoneData = z.infer<typeof zonesSchema>[number];
