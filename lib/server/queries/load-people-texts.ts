/** What people said of a session since it came, as a file of its folder. */
import { writePeopleFile } from '@/lib/core/session/write-people-file';
import { readStoredInput, type SessionEdition } from '../jobs/session-files';
import { withCorrections } from '../jobs/stored-input';
import type { OtherTexts } from '../uploads/zip-folder';
import { standingCorrections } from './load-corrections';

const PEOPLE_FILE = 'people.yaml';

/**
 * The folder's own corrections and those that stand, in the order in which they are computed in.
 *
 * @returns no text where nothing was said since: the folder's own file then stays as it is
 */
export async function loadPeopleTexts(edition: SessionEdition): Promise<OtherTexts> {
  const since = await standingCorrections(edition.id);
  if (Object.values(since).every((said) => said.length === 0)) return new Map();
  const people = withCorrections(await readStoredInput(edition), since);
  const { clockCorrections = [], stretchCorrections = [], ...rest } = people;
  const { phaseEdits = [], ruleDispositions = [], handlingTasks = [], handlingRatings = [] } = rest;
  const all = {
    clockCorrections,
    stretchCorrections,
    phaseEdits,
    ruleDispositions,
    handlingTasks,
    handlingRatings,
  };
  return new Map([[PEOPLE_FILE, writePeopleFile(all)]]);
}
