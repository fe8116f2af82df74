/** The flight in equal parts of time, for the pictures of the approach. */
import { cache } from 'react';
import { type ApproachTrack, nearStartS } from '@/lib/view/approach/approach-track';
import { samplesRoot } from '../data-folders';
import { logLine } from '../log-line';
import { columnsOf } from '../samples/columns-of';
import { readEnvelope } from '../samples/read-envelope';
import { loadDerivedFolder } from './load-reconstruction';

/** Parts the stretch is cut into; each gives the smallest and the largest value in it. */
const PARTS = 900;
const COLUMNS = [
  'range',
  'axial_distance',
  'offset_y',
  'offset_z',
  'lateral_offset',
  'closing_rate',
  'axial_closing_rate',
  'planned_closing_rate',
];

/**
 * @param fromS start of the stretch, session time, s
 * @param toS end of it, s
 * @returns null where no motion was estimated
 */
const loadApproachTrack = cache(
  async (sessionId: string, fromS: number, toS: number): Promise<ApproachTrack | null> => {
    const folder = await loadDerivedFolder(sessionId);
    if (folder === null || !(toS > fromS)) return null;
    try {
      return await readTrack(folder, fromS, toS);
    } catch (error) {
      // The tables say all that the pictures show: they are left out, and the log says why.
      logLine('track-not-read', { session: sessionId, folder, fault: String(error) });
      return null;
    }
  },
);

/**
 * The track of what was flown nearer than a distance, in parts as fine as the whole would have.
 *
 * @param span the stretch evaluated, s
 * @param nearM m; null takes all of it
 */
export async function loadNearTrack(
  sessionId: string,
  span: Readonly<{ fromS: number; toS: number }>,
  nearM: number | null,
): Promise<ApproachTrack | null> {
  const whole = await loadApproachTrack(sessionId, span.fromS, span.toS);
  if (whole === null || nearM === null) return whole;
  return loadApproachTrack(sessionId, nearStartS(whole, nearM), span.toS);
}

async function readTrack(folder: string, fromS: number, toS: number): Promise<ApproachTrack> {
  const { channels } = await columnsOf(samplesRoot(), folder);
  const known = new Set(channels.map(({ name }) => name));
  const columns = COLUMNS.filter((name) => known.has(name));
  const query = { columns, fromS, toS, pixels: PARTS };
  const { series } = await readEnvelope(samplesRoot(), folder, query);
  const partS = (toS - fromS) / PARTS;
  return {
    tS: Float64Array.from({ length: PARTS }, (_, part) => fromS + (part + 0.5) * partS),
    columns: new Map(series.map(({ column, min, max }) => [column, { low: min, high: max }])),
  };
}
