/** What people said of the clocks in the folder as it was imported. */
import { cache } from 'react';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import { readStoredInput, type SessionEdition } from '../jobs/session-files';

/** @returns in the order of the folder's people.yaml; empty where it has none */
export const loadFolderCorrections = cache(
  async ({ id, filesNumber }: SessionEdition): Promise<readonly ClockCorrection[]> =>
    (await readStoredInput({ id, filesNumber })).clockCorrections ?? [],
);
