/** A description of files as a screen sends it. */
import { z } from 'zod';
import type { SessionDescription } from '@/lib/core/intake/proposal/session-proposal';
import { AVAILABILITIES, STAMP_MEANINGS } from '@/lib/core/session/stamping';
import { DATE_ORDERS, TIME_CODES, TIME_SCALES } from '@/lib/core/time/time-code';

const name = z.string().min(1).max(400);

const fileInput = z.object({
  file: name,
  use: z.enum(['telemetry', 'events', 'ephemeris', 'plan', 'rules', 'nothing']),
  time: z
    .object({
      columns: z.array(name).max(2),
      code: z.enum(TIME_CODES).nullable(),
      scale: z.enum(TIME_SCALES).nullable(),
      from: z.string().max(80).nullable(),
      dateOrder: z.enum([...DATE_ORDERS, 'open']).nullable(),
    })
    .nullable(),
  ownTimes: z.boolean(),
  layout: z.enum(['wide', 'long']),
  nameColumn: name.nullable(),
  valueColumn: name.nullable(),
  channels: z
    .array(
      z.object({
        column: name,
        as: name.nullable(),
        unit: z.string().max(40).nullable(),
        sign: z.union([z.literal(1), z.literal(-1)]),
      }),
    )
    .max(20_000),
  clock: z.enum(['own', 'callouts']),
  stamping: z.object({
    stamp: z.enum(STAMP_MEANINGS).nullable(),
    latency: z.string().max(40),
    available: z.enum(AVAILABILITIES).nullable(),
  }),
});

export const descriptionInput: z.ZodType<SessionDescription> = z.object({
  title: z.string().max(400),
  kind: z.enum(['flight', 'simulation']),
  zero: z.string().max(80),
  files: z.array(fileInput).min(1).max(200),
});
