/** What people said of a session since it came, as a file of its folder. */
import { crewQuestionWords } from '@/lib/core/findings/crew-question';
import type { PeopleFile } from '@/lib/core/session/read-people-file';
import { recordingWords } from '@/lib/core/session/recording';
import { wordsKey } from '@/lib/core/session/words-key';
import { writePeopleFile } from '@/lib/core/session/write-people-file';
import { readStoredInput, type SessionEdition } from '../jobs/session-files';
import { withCorrections } from '../jobs/stored-input';
import type { OtherTexts } from '../uploads/zip-folder';
import { loadWordsSince } from './load-corrections';
import { loadCrewQuestions } from './load-crew-questions';
import { peopleOf } from './load-folder-people';
import { loadRecordings } from './load-recordings';

const PEOPLE_FILE = 'people.yaml';

/**
 * The folder's own corrections and those that stand, in the order in which they are computed in, the
 * questions to the crew and the recordings that stand.
 *
 * @returns no text where that is what the folder says itself: the folder's own file then stays as it is
 */
export async function loadPeopleTexts(edition: SessionEdition): Promise<OtherTexts> {
  const since = await loadWordsSince(edition.id);
  const stored = await readStoredInput(edition);
  const asked = (await loadCrewQuestions(edition.id))
    .filter(({ removed }) => removed === 'standing')
    .sort((a, b) => a.number - b.number)
    .map(crewQuestionWords);
  const recordings = (await loadRecordings(edition.id))
    .filter(({ removed }) => removed === null)
    .map(recordingWords);
  const people = { ...peopleOf(withCorrections(stored, since)), crewQuestions: asked, recordings };
  const isAsItCame = wordsIn(people) === wordsIn(peopleOf(stored));
  return isAsItCame ? new Map() : new Map([[PEOPLE_FILE, writePeopleFile(people)]]);
}

function wordsIn(people: PeopleFile): string {
  return JSON.stringify(Object.values(people).map((words) => words.map(wordsKey)));
}
