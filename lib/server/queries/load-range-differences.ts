/** The differences between ranges that the figures of a pair are formed from, for their picture. */
import { cache } from 'react';
import type { PairDifferences } from '@/lib/core/reconstruction/navigation-report';
import { samplesRoot } from '../data-folders';
import { logLine } from '../log-line';
import { readDifferences } from '../samples/difference-file';
import { loadDerivedFolder } from './load-reconstruction';

/** @returns none where none are kept: one range only, or a reconstruction made before they were */
export const loadRangeDifferences = cache(
  async (sessionId: string): Promise<readonly PairDifferences[]> => {
    const folder = await loadDerivedFolder(sessionId);
    if (folder === null || folder === '') return [];
    try {
      return await readDifferences(samplesRoot(), folder);
    } catch (error) {
      // The table says what they come to: the picture is left out, and the log says why.
      logLine('differences-not-read', { session: sessionId, folder, fault: String(error) });
      return [];
    }
  },
);
