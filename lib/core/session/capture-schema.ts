/** The parts of plan.yaml about contact and capture. */
import { z } from 'zod';

const stage = {
  event: z.string().min(1).max(200).optional().describe('Name of the event that reports it.'),
  after_contact_s: z.number().min(0).optional().describe('Planned time after first touch, s.'),
  tolerance_s: z.number().min(0).optional().describe('Accepted difference to either side, s.'),
};

export const captureSchema = z
  .strictObject({
    soft_capture: z.strictObject(stage).optional().describe('The ring has caught.'),
    damping: z
      .strictObject({
        ...stage,
        settled_mps: z
          .number()
          .positive()
          .optional()
          .describe('The motion is settled where its speed stays under this, m/s. Default 0.005.'),
        settled_for_s: z
          .number()
          .min(0)
          .optional()
          .describe('How long it must stay under it, s. Default 10.'),
      })
      .optional()
      .describe('The relative motion has settled.'),
    ring_retraction: z.strictObject(stage).optional().describe('The ring starts to draw in.'),
    hard_capture: z
      .strictObject({
        ...stage,
        latches: z.int().min(1).max(1000).optional().describe('Latches to close. Default 12.'),
        latch_event: z
          .string()
          .min(1)
          .max(200)
          .optional()
          .describe('Name of the event that reports one latch. Default latch-closed.'),
      })
      .optional()
      .describe('The latches have closed.'),
  })
  .describe('The stages of capture after first touch.');

const bounds = z
  .union([
    z.number().min(0).describe('At most.'),
    z.tuple([z.number().min(0), z.number().min(0)]).describe('Between two values.'),
  ])
  .optional();

export const contactLimitsSchema = z
  .strictObject({
    title: z.string().min(1).max(200).optional().describe('Heading of the table.'),
    source: z.string().min(1).max(400).describe('Where the limits come from.'),
    closing_rate_mps: bounds.describe('At most, or [at least, at most], m/s.'),
    lateral_rate_mps: bounds.describe('At most, m/s.'),
    lateral_offset_m: bounds.describe('At most, m.'),
    attitude_error_pitch_yaw_deg: bounds.describe('At most, root of the sum of squares, deg.'),
    attitude_error_roll_deg: bounds.describe('At most, deg.'),
    body_rate_pitch_yaw_dps: bounds.describe('At most, root of the sum of squares, deg/s.'),
    body_rate_roll_dps: bounds.describe('At most, deg/s.'),
  })
  .describe('Limits on the conditions at contact. Default: the docking standard.');

export type CaptureData = z.infer<typeof captureSchema>;
export type ContactLimitsData = z.infer<typeof contactLimitsSchema>;
