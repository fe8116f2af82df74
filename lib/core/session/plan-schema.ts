/** The schema of plan.yaml. Its JSON Schema is made from this. */
import { z } from 'zod';
import { captureSchema, contactLimitsSchema } from './capture-schema';
import { idSchema, profileSchema, registerIdSchema } from './profile-schema';
import { zonesSchema } from './zone-schema';

const holdSchema = z
  .strictObject({
    id: idSchema.describe('Name of the step, used by the rules.'),
    hold_m: z.number().min(0).describe('Range of the hold, m.'),
    tolerance_m: z.number().positive().describe('The hold is accepted within this of hold_m, m.'),
    planned_s: z.number().min(0).describe('Planned duration, s.'),
  })
  .describe('A hold: station-keeping at a range.');

const moveSchema = z
  .strictObject({
    id: idSchema.describe('Name of the step, used by the rules.'),
    to_m: z.number().min(0).describe('Range at which the move ends, m.'),
    planned_s: z.number().min(0).describe('Planned duration, s.'),
    closing_rate_mps: profileSchema,
    tolerance_mps: z.number().min(0).describe('Accepted deviation from the planned rate, m/s.'),
  })
  .describe('A move along a planned closing rate.');

export const planFileSchema = z
  .strictObject({
    plan: z.strictObject({
      id: registerIdSchema,
      title: z.string().min(1).describe('Free text.'),
      hold_rate_mps: z
        .number()
        .positive()
        .describe('Under this size of the range rate the motion is a hold, m/s.'),
      hold_dwell_s: z.number().min(0).describe('Runs shorter than this join a neighbour, s.'),
      hold_cross_speed_mps: z
        .number()
        .positive()
        .optional()
        .describe('A hold with a larger speed across is a crossing, m/s. Default: no crossings.'),
      acceleration_mps2: z
        .number()
        .positive()
        .optional()
        .describe('Speeding up and braking between steps, m/s2. Default 0.01.'),
      contact_axial_m: z
        .number()
        .optional()
        .describe('Axial distance of first touch, m. Default 0.'),
      contact_limits: contactLimitsSchema.optional(),
      capture: captureSchema.optional(),
      zones: zonesSchema.optional(),
      steps: z
        .array(z.union([holdSchema, moveSchema]))
        .min(1)
        .max(500)
        .describe('In flown order.'),
    }),
  })
  .describe('The plan of an approach.');

export type PlanFileData = z.infer<typeof planFileSchema>;
