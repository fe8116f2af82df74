/** What was set aside of one source, row by row and cell by cell. */
import { cache } from 'react';
import { z } from 'zod';
import type { SetAsideList } from '@/lib/view/rejects-csv';
import { samplesRoot } from '../data-folders';
import { readRejects } from '../samples/reject-file';
import { loadSources } from './load-sources';

/** The part of a log's report that lists what was refused. */
const refusedSchema = z.object({
  rowsRejected: z.number().default(0),
  rejects: z
    .array(z.object({ line: z.number(), found: z.string(), reason: z.string() }))
    .default([]),
});

/** By file and line; null where the session has no such source. */
export const loadRejects = cache(
  async (sessionId: string, file: string): Promise<SetAsideList | null> => {
    const source = (await loadSources(sessionId)).find((each) => each.file === file);
    if (source === undefined) return null;
    if (source.folder !== '') return readRejects(samplesRoot(), source.folder);
    const { rejects, rowsRejected } = refusedSchema.parse(source.report);
    const rows = rejects.map(({ line, found, reason }) => {
      return { file: null, line, column: null, cell: found, reason };
    });
    return { rows, leftOut: Math.max(0, rowsRejected - rows.length) };
  },
);
