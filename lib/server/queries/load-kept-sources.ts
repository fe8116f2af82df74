/** Sources with their columns, as the screen of sources reads them. */
import { cache } from 'react';
import { z } from 'zod';
import type { KeptSource } from '@/lib/view/sources-view';
import { loadSources, type SourceRow } from './load-sources';

/** The part of a telemetry import's report that lists its columns. */
const columnsSchema = z.object({
  channels: z.array(
    z.object({
      name: z.string(),
      as: z.string(),
      unit: z.string(),
      sourceUnit: z.string().nullable(),
      samples: z.number(),
      rejectedCells: z.number(),
    }),
  ),
});

/** Columns in the order of the file; the unit is the one written in session.yaml. */
export const loadKeptSources = cache(async (sessionId: string): Promise<KeptSource[]> => {
  const rows = await loadSources(sessionId);
  return rows.map(({ file, type, sha256, bytes, number, report, lateAtIso }) => ({
    file,
    type,
    sha256,
    bytes,
    number,
    lateAtIso,
    columns: columnsOfReport(report),
  }));
});

function columnsOfReport(report: SourceRow['report']): KeptSource['columns'] {
  const read = columnsSchema.safeParse(report);
  if (!read.success) return [];
  return read.data.channels.map(({ name, as, unit, sourceUnit, samples, rejectedCells }) => ({
    name,
    as,
    unit: sourceUnit ?? unit,
    samples,
    rejectedCells,
  }));
}
