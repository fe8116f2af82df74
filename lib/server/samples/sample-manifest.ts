/**
 * What stands in a sample folder: `manifest.json`, written last, so that a folder without one is
 * not a sample folder. It lists every other file with its size and SHA-256.
 *
 * Layout of a folder:
 *   data.parquet         t (DOUBLE, seconds from the session's zero on the source's own clock,
 *                        strictly ascending, NULL never) and one column a channel; NULL = no sample
 *   lod/s64.parquet      one row for 64 rows of data: bin, t0, t1, rows, <column>_min, _max, _n
 *   lod/s512.parquet     the same for 512 rows of data, lod/s4096.parquet for 4,096
 *   rejects.parquet      only if any: line (1-based), column, text, reason,
 *                        file (NULL unless the source was put together from several)
 *   original.<ext>       the source as it came (imports only)
 *
 * A folder of simulator runs has data.parquet alone, with a column `run` (0-based) before `t`; `t`
 * ascends within a run.
 */
import { z } from 'zod';
import { DATE_ORDERS } from '@/lib/core/time/time-code';

/** Raised when the same source would give another folder than before. */
export const IMPORTER_VERSION = 'samples/9';

/** Rows of data in one row of a level file. */
export const LEVEL_ROWS = [64, 512, 4096] as const;
export type LevelRows = (typeof LEVEL_ROWS)[number];
export const COARSEST_LEVEL: LevelRows = 4096;

const channelSchema = z.strictObject({
  /** Exactly as written in the source's header. */
  name: z.string(),
  /** Column in data.parquet: the name, made different from others that differ in case only. */
  stored: z.string(),
  /** The quantity (`position.x`) or its own name. */
  as: z.string(),
  /** Unit of the stored values, SI; empty for a column the session file does not describe. */
  unit: z.string(),
  /** Unit as written in session.yaml; null for a column it does not describe. */
  sourceUnit: z.string().nullable(),
  mapped: z.boolean(),
  /** Valid samples, and numbers left out because they were NaN or infinite. */
  samples: z.number().int(),
  notFinite: z.number().int(),
  /** Cells that were no number. */
  rejectedCells: z.number().int(),
  min: z.number().nullable(),
  max: z.number().nullable(),
});

const fileSchema = z.strictObject({
  name: z.string(),
  bytes: z.number().int(),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
});

const stampFaultSchema = z.strictObject({
  kind: z.enum(['duplicate', 'out_of_order', 'jump']),
  startS: z.number(),
  endS: z.number(),
  line: z.number().int(),
  file: z.string().exactOptional(),
});

const dayTurnSchema = z.strictObject({
  beforeS: z.number(),
  afterS: z.number(),
  line: z.number().int(),
  file: z.string().exactOptional(),
  spanS: z.number().exactOptional(),
});

export const manifestSchema = z.strictObject({
  format: z.literal('wakeline/samples/1'),
  importer: z.string(),
  content: z.enum(['source', 'derived', 'runs']),
  source: z
    .strictObject({ file: z.string(), sha256: z.string(), bytes: z.number().int() })
    .nullable(),
  /** The files of the source, one or more, with their own hashes. */
  parts: z
    .array(z.strictObject({ name: z.string(), sha256: z.string(), bytes: z.number().int() }))
    .default([]),
  /** Of a folder of runs: each run by its number in the column `run` of data.parquet, ascending. */
  runs: z
    .array(
      z.strictObject({
        number: z.number().int(),
        name: z.string(),
        sha256: z.string(),
        bytes: z.number().int(),
        rows: z.number().int(),
        rowsRead: z.number().int(),
        rowsRejected: z.number().int(),
      }),
    )
    .optional(),
  zeroTaiNs: z.string().nullable(),
  dialect: z
    .strictObject({
      separator: z.string(),
      decimal: z.enum(['.', ',']),
      quote: z.string(),
      headerLine: z.number().int(),
    })
    .nullable(),
  /** Rows in data.parquet. */
  rows: z.number().int(),
  /** Rows of the source, whatever became of them. */
  rowsRead: z.number().int(),
  /** Rows of the source that could not be used: no stamp, or too few or too many cells. */
  rowsRejected: z.number().int(),
  cellsRejected: z.number().int(),
  /** Rows kept out because their stamp repeats or steps back; `stampFaults` lists them as runs, with jumps. */
  rowsOutOfOrder: z.number().int(),
  stampFaults: z.array(stampFaultSchema),
  /** Where times of day were carried on over midnight: the times of day beside it, s. */
  dayTurns: z.array(dayTurnSchema).exactOptional(),
  /** How finely stamps that count days tell times apart, s; absent for other codes. */
  dayResolution: z
    .strictObject({ decimals: z.number().int(), writtenS: z.number(), doubleS: z.number() })
    .exactOptional(),
  /** Order found in the dates of the whole file; absent where it was stated, or none end in the year. */
  dateOrder: z.enum(DATE_ORDERS).exactOptional(),
  fromS: z.number().nullable(),
  toS: z.number().nullable(),
  channels: z.array(channelSchema),
  /** Columns of the source kept as text. */
  textColumns: z.array(z.string()),
  files: z.array(fileSchema),
  /** Wall seconds a stage took; a record of this import, no part of its identity. */
  stageSeconds: z.record(z.string(), z.number()),
});

export type SampleManifest = z.infer<typeof manifestSchema>;
export type SampleChannel = SampleManifest['channels'][number];
export type SampleFile = SampleManifest['files'][number];
