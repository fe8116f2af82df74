/** The schema of rules.yaml. Its JSON Schema is made from this. */
import { z } from 'zod';
import { idSchema, pairSchema, profileSchema, registerIdSchema } from './profile-schema';

const withinSchema = z
  .strictObject({
    range_m: pairSchema.optional().describe('Between these ranges, m: [low, high].'),
    axial_m: pairSchema.optional().describe('Between these axial distances, m: [low, high].'),
    step: z.string().min(1).optional().describe('During this step of the plan.'),
  })
  .describe('Where the rule applies; all conditions given must hold.');

const limitSchema = z.union([
  z
    .strictObject({ constant: z.number(), unit: z.union([z.string().min(1), z.literal(1)]) })
    .describe('One value with its unit.'),
  z
    .strictObject({ by: z.literal('range'), points_m_mps: profileSchema })
    .describe('A rate that depends on range.'),
  z
    .strictObject({
      cone: z.strictObject({
        half_angle_deg: z.number().positive().lt(90).describe('Half angle of the cone, deg.'),
        floor_m: z.number().min(0).describe('Least allowed offset, m.'),
      }),
    })
    .describe('A cone about the docking axis with its apex at the port.'),
]);

const base = {
  id: idSchema.describe('Name of the rule.'),
  statement: z.string().min(1).describe('The rule in words.'),
  within: withinSchema.optional(),
  persists_s: z
    .number()
    .min(0)
    .optional()
    .describe('How long it must last to count, s. Default 0.'),
};

const quantitySchema = z
  .strictObject({
    ...base,
    quantity: z.string().min(1).describe('A derived quantity or the quantity of a channel.'),
    limit: limitSchema.optional().describe('Upper bound. Give this or at_least.'),
    at_least: limitSchema.optional().describe('Lower bound. Give this or limit.'),
  })
  .describe('A quantity stays at or under (at or over) a limit.');

const eventSchema = z
  .strictObject({ event: z.string().min(1).describe('Name in the event column of a log.') })
  .describe('An event.');

const stepEdgeSchema = z
  .strictObject({
    step: z.string().min(1).describe('Step of the plan.'),
    edge: z.enum(['start', 'end']),
  })
  .describe('The start or the end of a step.');

const orderSchema = z
  .strictObject({
    ...base,
    order: z.strictObject({
      first: eventSchema,
      // biome-ignore lint/suspicious/noThenProperty: the file's own key
      then: z.union([eventSchema, stepEdgeSchema]),
    }),
  })
  .describe('An event comes before another event or before a step starts or ends.');

const neverSchema = z
  .strictObject({ ...base, never: eventSchema })
  .describe('An event does not occur.');

const durationSchema = z
  .strictObject({
    ...base,
    duration: z.strictObject({
      step: z.string().min(1).describe('Step of the plan.'),
      at_most_s: z.number().min(0).optional().describe('No longer than this, s.'),
      at_least_s: z.number().min(0).optional().describe('No shorter than this, s.'),
    }),
  })
  .describe('A step lasts no longer, or no shorter, than a bound.');

const whenSchema = withinSchema
  .extend({
    mode: z
      .strictObject({
        channel: z.string().min(1).optional().describe('Quantity or name of it. Default mode.'),
        is: z.array(z.number()).min(1).max(100).describe('States in which the rule applies.'),
      })
      .optional()
      .describe('While a channel of states holds one of these.'),
  })
  .describe('Where and when the rule applies; all conditions given must hold.');

const generalBase = {
  id: base.id,
  statement: base.statement,
  when: whenSchema.optional(),
};

const boundSchema = z.union([
  limitSchema,
  z
    .strictObject({
      by: z.literal('range'),
      points: profileSchema.describe('Points [range_m, value], linear between and held outside.'),
      unit: z.union([z.string().min(1), z.literal(1)]),
    })
    .describe('A bound in any unit that depends on range.'),
]);

const derivedSchema = z.union([
  z.string().min(1).describe('A quantity by its name.'),
  z.strictObject({ rate_of: z.string().min(1) }).describe('Its change per second.'),
  z
    .strictObject({ vector_sum: z.array(z.string().min(1)).min(1).max(10) })
    .describe('Root of the sum of squares.'),
]);

const bandSchema = z
  .strictObject({
    ...generalBase,
    quantity: derivedSchema.describe('A quantity, its rate, or the root of a sum of squares.'),
    between: z
      .tuple([boundSchema.nullable(), boundSchema.nullable()])
      .describe('[low, high]; null leaves a side open.'),
    persists_s: base.persists_s,
  })
  .describe('A quantity stays between two bounds.');

const momentSchema = z.union([eventSchema, stepEdgeSchema]);

const eventsSchema = z
  .strictObject({
    ...generalBase,
    events: z.union([
      z
        .strictObject({
          first: momentSchema,
          // biome-ignore lint/suspicious/noThenProperty: the file's own key
          then: momentSchema,
          within_s: z.number().optional().describe('At most so long after the first, s.'),
          at_least_s: z.number().optional().describe('At least so long after, s. Default 0.'),
        })
        .describe('One moment after another, and how long after.'),
      z
        .strictObject({
          count: eventSchema,
          at_least: z.int().min(0).optional(),
          at_most: z.int().min(0).optional(),
        })
        .describe('How often an event occurs.'),
      z.strictObject({ never: eventSchema }).describe('An event does not occur.'),
    ]),
  })
  .describe('A rule about events and steps.');

export const rulesFileSchema = z
  .strictObject({
    id: registerIdSchema,
    title: z
      .string()
      .min(1)
      .max(200)
      .optional()
      .describe('Free text. Default: made from the file name.'),
    rules: z
      .array(
        z.union([
          quantitySchema,
          orderSchema,
          neverSchema,
          durationSchema,
          bandSchema,
          eventsSchema,
        ]),
      )
      .max(1000),
  })
  .describe('The flight rules of an approach.');

export type RuleData = z.infer<typeof rulesFileSchema>['rules'][number];
export type WithinData = z.infer<typeof withinSchema>;
export type LimitData = z.infer<typeof limitSchema>;
export type WhenData = z.infer<typeof whenSchema>;
export type BandData = z.infer<typeof bandSchema>;
export type EventsData = z.infer<typeof eventsSchema>;
export type BoundData = z.infer<typeof boundSchema>;
export type QuantityData = z.infer<typeof derivedSchema>;
export type MomentData = z.infer<typeof momentSchema>;
