/** The schema of session.yaml. Its JSON Schema is made from this. */
import { z } from 'zod';
import { DATE_ORDERS, TIME_CODES, TIME_SCALES } from '../time/time-code';
import { pairSchema } from './profile-schema';
import { simulationsSchema } from './runs-schema';
import { AVAILABILITIES, STAMP_MEANINGS } from './stamping';

const name = z.string().min(1);

const timeSchema = z
  .strictObject({
    column: name.optional().describe('Column (or JSON key) of the stamp.'),
    columns: z
      .array(name)
      .min(1)
      .max(2)
      .optional()
      .describe('For gps-week-seconds: week, seconds. For a date: date, time of day.'),
    code: z.enum(TIME_CODES).describe('How the stamp is written.'),
    scale: z.enum(TIME_SCALES).optional().describe('Time scale of the stamp. Default UTC.'),
    from: z
      .string()
      .optional()
      .describe('UTC instant that an elapsed code counts from. Default: zero.'),
    date_order: z
      .enum(DATE_ORDERS)
      .optional()
      .describe(
        'For iso8601, of dates that end in the year (17/04/2031). Default: as the whole file shows; refused where it does not.',
      ),
  })
  .describe('Where the stamps stand and how they are written.');

const offsetS = z.number().min(-1e9).max(1e9);
const driftPpm = z.number().min(-100_000).max(100_000);

const clockSchema = z
  .union([
    z
      .strictObject({ offset_s: offsetS, drift_ppm: driftPpm.optional() })
      .describe('session = offset_s + source x (1 + drift_ppm x 1e-6), s from zero.'),
    z.strictObject({ drift_ppm: driftPpm }).describe('As above, without an offset.'),
    z
      .strictObject({ tie_points: z.array(pairSchema).min(1).max(10_000) })
      .describe('Pairs [source_s, session_s]; one pair gives the offset only.'),
    z
      .strictObject({
        align: z.literal('callouts'),
        lag_s: z.number().min(0).max(60).optional().describe('Mean human lag, s. Default 0.8.'),
        lag_sd_s: z
          .number()
          .min(0)
          .max(60)
          .optional()
          .describe('Standard deviation of the lag, s. Default 0.4.'),
        lag_mean_sd_s: z
          .number()
          .min(0)
          .max(60)
          .optional()
          .describe('Standard deviation of the mean lag itself, s. Default 0.1.'),
        range_bias_sd_m: z
          .number()
          .min(0)
          .max(1000)
          .optional()
          .describe(
            'How far said and measured range may lie apart throughout, 1 sd, m. Default 1; 0 for the same points.',
          ),
      })
      .describe('From spoken ranges against the measured range.'),
  ])
  .describe('Puts the own time of the source onto session time. Default: identity.');

const channelSchema = z.strictObject({
  as: name.describe('The quantity that the column is, or any other name.'),
  unit: z
    .union([name, z.literal(1)])
    .optional()
    .describe('Unit of the numbers in the file. Default: from a row of units in the file.'),
  scale: z.number().optional().describe('Factor on the numbers. Default 1.'),
  sign: z
    .union([z.literal(1), z.literal(-1), z.literal('+'), z.literal('-')])
    .optional()
    .describe('Sign on the numbers. Default 1.'),
});

const file = name.max(400).describe('Path of the file, relative to the folder.');

const absent = z
  .enum(['awaited', 'lost'])
  .optional()
  .describe('What it means when the file is not there. Default: an error.');

const navStateSchema = z.strictObject({
  value: z.number().describe('Value of the selector.'),
  name: name.describe('What feeds the solution then, as people call it.'),
  kind: z
    .enum(['measured', 'propagated', 'rejected'])
    .optional()
    .describe(
      'propagated: carried on without measurements; rejected: measured and refused. Default measured.',
    ),
  settles_s: z
    .number()
    .min(0)
    .max(3600)
    .optional()
    .describe('How long the solution settles after it changed to this, s. Default 10.'),
});

const navigationSchema = z
  .strictObject({
    selector: name.describe(
      'Column of this source (as in channels) whose value says what feeds it.',
    ),
    states: z.array(navStateSchema).min(1).max(50).describe('What each value means.'),
  })
  .describe('Which sensor fed the solution of this source when.');

const modesSchema = z
  .strictObject({
    channel: name.describe(
      'Column of this source (as in channels) whose value says what was commanded.',
    ),
    states: z
      .array(
        z.strictObject({
          value: z.number().describe('Value of the channel.'),
          name: name.describe('The mode, as people call it.'),
          motion: z
            .enum(['hold', 'closing', 'opening'])
            .optional()
            .describe('The motion that it commands. Default: none.'),
        }),
      )
      .min(1)
      .max(50)
      .describe('What each value means.'),
  })
  .describe('Commanded phases: which mode the vehicle was in when.');

const statedSchema = z.strictObject({
  value: z.number().min(0),
  unit: name,
  is: z
    .enum(['95 %', '1 sd'])
    .optional()
    .describe('Half-width of the 95 % interval, or one standard deviation. Default 95 %.'),
});

/** Of every kind of source. */
const stampingKeys = {
  stamp: z
    .enum(STAMP_MEANINGS)
    .optional()
    .describe('What a stamp is the moment of. Default: not stated, taken as measured.'),
  latency_s: z
    .number()
    .min(0)
    .max(1e7)
    .optional()
    .describe(
      'From the measurement, event or making to its reception, s: the stamp is the start of it, or the end where it is that of reception.',
    ),
  available: z
    .enum(AVAILABILITIES)
    .optional()
    .describe('When the source was there. Default: real-time.'),
};

const metres = z.number().min(-1000).max(1000);

const pointSchema = z.union([
  name,
  z.strictObject({
    is: z.enum(['port', 'centre of mass', 'sensor']).describe('What the point is.'),
    name: name.optional().describe('What people call it. Default: what it is.'),
    to_port_m: z
      .array(metres)
      .length(3)
      .optional()
      .describe('From it to the docking port of its body, in that body’s axes, m.'),
  }),
]);

const orbitSchema = z
  .strictObject({
    normal: z
      .enum(['x', '-x', 'y', '-y', 'z', '-z'])
      .describe('Along which axis of the position the normal of the orbit points.'),
    altitude_m: z
      .number()
      .min(100_000)
      .max(1e9)
      .optional()
      .describe('Of a circular orbit of the Earth, above the equatorial radius, m.'),
    mean_motion_radps: z.number().gt(0).max(0.01).optional().describe('Mean motion, rad/s.'),
    period_s: z.number().min(600).max(1e7).optional().describe('Time of one orbit, s.'),
  })
  .describe(
    'The orbit that the axes of the position go round with; its rate is stated in one way.',
  );

const telemetrySchema = z
  .strictObject({
    file: file.optional(),
    files: z
      .array(file)
      .min(1)
      .max(200)
      .optional()
      .describe('In place of file: several files, or patterns, that make one source.'),
    type: z.literal('telemetry'),
    absent,
    time: timeSchema.optional().describe('Not needed for CCSDS messages.'),
    clock: clockSchema.optional(),
    layout: z.enum(['wide', 'long']).optional().describe('Default wide.'),
    name_column: name.optional().describe('Layout long: column of the channel name.'),
    value_column: name.optional().describe('Layout long: column of the value.'),
    channels: z.record(z.string().min(1), channelSchema).describe('Column to quantity and unit.'),
    missing: z
      .array(z.union([z.number(), name]))
      .max(20)
      .optional()
      .describe('Numbers or words that stand for "no sample", such as -9999.'),
    separator: z.string().min(1).max(9).optional().describe('Default: found by reading.'),
    decimal: z.enum(['.', ',']).optional().describe('Default: found by reading.'),
    encoding: name.optional().describe('Default: found by reading.'),
    points: z
      .union([name, z.strictObject({ from: pointSchema, to: pointSchema })])
      .optional()
      .describe(
        'What is measured: from a point of the vehicle to one of the target. Default: port to port.',
      ),
    axes: z
      .enum(['target port', 'orbit'])
      .optional()
      .describe(
        'Axes of position and velocity: of the target’s port (default), or axes that go round with the orbit.',
      ),
    velocity_frame: z
      .enum(['rotating', 'inertial'])
      .optional()
      .describe(
        'rotating: the rate of the position in its axes; inertial: taken in axes that do not turn. Default rotating.',
      ),
    orbit: orbitSchema.optional(),
    sensor: name.optional().describe('What the values come from, as people call it.'),
    navigation: navigationSchema.optional(),
    modes: modesSchema.optional(),
    lever_arm_m: z
      .union([z.number(), z.array(z.number()).length(3)])
      .optional()
      .describe(
        'From the vehicle’s point to its docking port, in its axes, m; x alone as a number.',
      ),
    ...stampingKeys,
    accuracy: z
      .union([name, z.record(name, z.union([z.number().min(0), statedSchema]))])
      .optional()
      .describe('What the source states of its error, by quantity; text is kept unused.'),
  })
  .describe('A table of samples.');

const eventsSchema = z
  .strictObject({
    file,
    type: z.literal('events'),
    absent,
    time: timeSchema.optional().describe('Not needed for WebVTT and SubRip.'),
    clock: clockSchema.optional(),
    separator: z.string().min(1).max(9).optional(),
    encoding: name.optional(),
    ...stampingKeys,
  })
  .describe('A log of events and spoken words.');

const ephemerisSchema = z
  .strictObject({
    file,
    type: z.literal('ephemeris'),
    absent,
    time: timeSchema.optional(),
    clock: clockSchema.optional(),
    ...stampingKeys,
  })
  .describe('An ephemeris message; kept, not computed yet.');

export const sessionFileSchema = z
  .strictObject({
    title: name.describe('Free text.'),
    kind: z.enum(['flight', 'simulation']),
    zero: name.describe('The UTC instant of session time 0, ISO 8601.'),
    mission_zero: name
      .optional()
      .describe('The UTC instant that mission time counts from. Default: no mission time.'),
    sources: z
      .array(z.discriminatedUnion('type', [telemetrySchema, eventsSchema, ephemerisSchema]))
      .min(1)
      .max(200),
    plan: name.optional().describe('Name of the plan file.'),
    rules: name.optional().describe('Name of the rule file.'),
    simulations: simulationsSchema.optional(),
  })
  .describe('A session: files and how to read each.');

export type SessionData = z.infer<typeof sessionFileSchema>;
export type SourceData = SessionData['sources'][number];
export type TelemetryData = z.infer<typeof telemetrySchema>;
export type TimeData = z.infer<typeof timeSchema>;
export type ClockData = z.infer<typeof clockSchema>;
