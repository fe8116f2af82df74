/** The flight's track for the drawing from the side. */
import { cache } from 'react';
import type { SideTrack } from '@/lib/view/overview/side-view';
import { samplesRoot } from '../data-folders';
import { logLine } from '../log-line';
import { columnsOf } from '../samples/columns-of';
import { readEnvelope } from '../samples/read-envelope';
import { loadDerivedFolder } from './load-reconstruction';

/** Parts the session is cut into; each gives the smallest and the largest offset in it. */
const PARTS = 700;
const ALONG = 'axial_distance';
const ACROSS = 'lateral_offset';

/** @returns null where the distance along the axis or the offset from it was not estimated */
export const loadSideTrack = cache(async (sessionId: string): Promise<SideTrack | null> => {
  const folder = await loadDerivedFolder(sessionId);
  if (folder === null) return null;
  try {
    return await readTrack(folder);
  } catch (error) {
    // The overview's numbers do not depend on the drawing: it is left out, and the log says why.
    logLine('track-not-read', { session: sessionId, folder, fault: String(error) });
    return null;
  }
});

async function readTrack(folder: string): Promise<SideTrack | null> {
  const { channels, fromS, toS } = await columnsOf(samplesRoot(), folder);
  const names = new Set(channels.map((channel) => channel.name));
  if (!names.has(ALONG) || !names.has(ACROSS) || fromS === null || toS === null) return null;
  const envelope = await readEnvelope(samplesRoot(), folder, {
    columns: [ALONG, ACROSS],
    fromS,
    toS,
    pixels: PARTS,
  });
  const [along, across] = envelope.series;
  if (along === undefined || across === undefined) return null;
  const axialM = new Float64Array(PARTS * 2);
  const valuesM = new Float64Array(PARTS * 2);
  for (let part = 0; part < PARTS; part += 1) {
    const middleM = ((along.min[part] ?? Number.NaN) + (along.max[part] ?? Number.NaN)) / 2;
    axialM.fill(middleM, part * 2, part * 2 + 2);
    valuesM[part * 2] = across.min[part] ?? Number.NaN;
    valuesM[part * 2 + 1] = across.max[part] ?? Number.NaN;
  }
  return { axialM, across: [{ label: 'distance from the axis', valuesM }] };
}
