/** A comparison asked again in another way, from the columns kept with the reconstruction. */
import { type CompareQuestion, compareAligned } from '@/lib/core/reconstruction/aligned-comparison';
import type { CompareTracks } from '@/lib/core/reconstruction/compare-tracks';
import type { AlignedComparison } from '@/lib/core/reconstruction/comparison';
import { samplesRoot } from '../data-folders';
import { logLine } from '../log-line';
import { readTracks } from '../samples/track-file';
import { loadDerivedFolder } from './load-reconstruction';

/** The columns last asked: the next question about them reads nothing. */
let kept: Readonly<{ place: string; tracks: Promise<CompareTracks | null> }> | null = null;

function tracksOf(root: string, folder: string): Promise<CompareTracks | null> {
  const place = `${root}/${folder}`;
  if (kept?.place === place) return kept.tracks;
  const tracks = readTracks(root, folder);
  kept = { place, tracks };
  tracks.catch(() => {
    if (kept?.tracks === tracks) kept = null;
  });
  return tracks;
}

/** @returns null where no columns are kept: the reconstruction is older, or has no runs */
export async function loadAligned(
  sessionId: string,
  question: CompareQuestion,
): Promise<AlignedComparison | null> {
  const folder = await loadDerivedFolder(sessionId);
  if (folder === null || folder === '') return null;
  try {
    const tracks = await tracksOf(samplesRoot(), folder);
    return tracks === null ? null : compareAligned(tracks, question);
  } catch (error) {
    // What is kept with the reconstruction still stands: the log says why this could not be asked.
    logLine('runs-not-read', { session: sessionId, folder, fault: String(error) });
    return null;
  }
}
