/** Sources with their columns, as the screen of sources reads them. */
import { cache } from 'react';
import { z } from 'zod';
import { stampingOf } from '@/lib/core/session/stamping';
import type { KeptSource } from '@/lib/view/sources-view';
import { loadSources, type SourceRow } from './load-sources';

const channelSchema = z.object({
  name: z.string(),
  as: z.string(),
  unit: z.string(),
  sourceUnit: z.string().nullable(),
  samples: z.number(),
  rejectedCells: z.number(),
});

/** The part of an import's report that the screen shows; a log has counts of rows only. */
const reportSchema = z.object({
  channels: z.array(channelSchema).default([]),
  rowsRejected: z.number().default(0),
  cellsRejected: z.number().default(0),
  rowsOutOfOrder: z.number().default(0),
  stageSeconds: z.record(z.string(), z.number()).default({}),
});

/** Columns in the order of the file; the unit is the one written in session.yaml. */
export const loadKeptSources = cache(async (sessionId: string): Promise<KeptSource[]> => {
  const rows = await loadSources(sessionId);
  return rows.map(({ file, type, sha256, bytes, number, report, declared, lateAtIso }) => ({
    file,
    type,
    sha256,
    bytes,
    number,
    lateAtIso,
    stamping: stampingOf(declared),
    ...readReport(report),
  }));
});

type Reported = Pick<KeptSource, 'columns' | 'setAside' | 'stageSeconds'>;

function readReport(report: SourceRow['report']): Reported {
  const { channels, ...read } = reportSchema.parse(report);
  return {
    columns: channels.map(({ name, as, unit, sourceUnit, samples, rejectedCells }) => ({
      name,
      as,
      unit: sourceUnit ?? unit,
      samples,
      rejectedCells,
    })),
    setAside: {
      rows: read.rowsRejected,
      cells: read.cellsRejected,
      outOfOrder: read.rowsOutOfOrder,
    },
    stageSeconds: read.stageSeconds,
  };
}
