/** What people said of a session in the folder as it was imported. */
import { cache } from 'react';
import type { PeopleFile } from '@/lib/core/session/read-people-file';
import { localActor } from '../actor';
import { db } from '../db';
import { readStoredInput } from '../jobs/session-files';
import type { StoredInput } from '../jobs/stored-input';

/** The words of a stored input that came with its people.yaml. */
export function peopleOf(input: StoredInput): PeopleFile {
  const { clockCorrections = [], stretchCorrections = [], crewQuestions = [] } = input;
  const {
    phaseEdits = [],
    ruleDispositions = [],
    handlingTasks = [],
    handlingRatings = [],
    recordings = [],
  } = input;
  return {
    clockCorrections,
    stretchCorrections,
    phaseEdits,
    ruleDispositions,
    handlingTasks,
    handlingRatings,
    crewQuestions,
    recordings,
  };
}

const NOTHING: PeopleFile = { clockCorrections: [], stretchCorrections: [] };

/** @returns in the order of the folder's people.yaml; empty lists where it has none */
export const loadFolderPeople = cache(async (sessionId: string): Promise<PeopleFile> => {
  const edition = await db().session.findFirst({
    where: { id: sessionId, teamId: localActor().teamId },
    select: { id: true, filesNumber: true },
  });
  if (edition === null) return NOTHING;
  const input = await readStoredInput(edition).catch((error: NodeJS.ErrnoException) => {
    // A session without files has no people.yaml either.
    if (error.code === 'ENOENT') return null;
    throw error;
  });
  return input === null ? NOTHING : peopleOf(input);
});
