/** Corrections of phases as they are kept in rows. */
import { z } from 'zod';
import type { PhaseEdit } from '@/lib/core/session/phase-edit';

const said = { by: z.string().nullable(), reason: z.string().nullable() };
const motion = z.enum(['hold', 'closing', 'opening', 'crossing']);
const sdS = z.number().nullable();

export const phaseEditSchema: z.ZodType<PhaseEdit> = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('move-edge'),
    edgeS: z.number(),
    before: motion,
    after: motion,
    toS: z.number(),
    sdS,
    ...said,
  }),
  z.object({ kind: z.literal('split-run'), motion, atS: z.number(), sdS, ...said }),
  z.object({
    kind: z.literal('name-run'),
    motion,
    fromS: z.number(),
    toS: z.number(),
    step: z.string().nullable(),
    ...said,
  }),
  z.object({
    kind: z.literal('contact'),
    atS: z.number(),
    sdS: z.number(),
    basis: z.string(),
    ...said,
  }),
]);
