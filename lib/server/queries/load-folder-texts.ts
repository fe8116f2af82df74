/** What an exported folder holds in place of, or beside, the files as they came. */
import type { SessionEdition } from '../jobs/session-files';
import type { OtherTexts } from '../uploads/zip-folder';
import { loadPeopleTexts } from './load-people-texts';
import { loadUsedTexts } from './load-used-texts';

/** Plan and rules in use where they are not the folder's own, and what people said since. */
export async function loadFolderTexts(edition: SessionEdition): Promise<OtherTexts> {
  return new Map([...(await loadUsedTexts(edition)), ...(await loadPeopleTexts(edition))]);
}
