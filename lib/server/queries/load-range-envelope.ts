/** The estimated range over the session, for the drawing of a clock. */
import { cache } from 'react';
import type { RangeEnvelope } from '@/lib/view/clock/clock-drawing';
import { samplesRoot } from '../data-folders';
import { logLine } from '../log-line';
import { columnsOf } from '../samples/columns-of';
import { readEnvelope } from '../samples/read-envelope';
import { loadDerivedFolder } from './load-reconstruction';

/** Parts the session is cut into; each gives the smallest and the largest range in it. */
const PARTS = 900;
const RANGE = 'range';

/** @returns null where no range was estimated */
export const loadRangeEnvelope = cache(async (sessionId: string): Promise<RangeEnvelope | null> => {
  const folder = await loadDerivedFolder(sessionId);
  if (folder === null) return null;
  try {
    return await readRange(folder);
  } catch (error) {
    // The table says all that the drawing shows: it is left out, and the log says why.
    logLine('range-not-read', { session: sessionId, folder, fault: String(error) });
    return null;
  }
});

async function readRange(folder: string): Promise<RangeEnvelope | null> {
  const { channels, fromS, toS } = await columnsOf(samplesRoot(), folder);
  const hasRange = channels.some(({ name }) => name === RANGE);
  if (!hasRange || fromS === null || toS === null || toS <= fromS) return null;
  const query = { columns: [RANGE], fromS, toS, pixels: PARTS };
  const [range] = (await readEnvelope(samplesRoot(), folder, query)).series;
  if (range === undefined) return null;
  const partS = (toS - fromS) / PARTS;
  const tS = Float64Array.from({ length: PARTS }, (_, part) => fromS + (part + 0.5) * partS);
  return { tS, leastM: range.min, mostM: range.max };
}
