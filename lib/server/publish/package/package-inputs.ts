/** What a data package needs of a session beside its record; loaded before the publishing process starts. */
import { localActor } from '../../actor';
import { db } from '../../db';
import { originalFolder } from '../../jobs/session-files';
import { loadFolderTexts } from '../../queries/load-folder-texts';
import { loadExportedRecordings } from '../../recordings/folder-recordings';
import { pathExists } from '../../samples/durable-files';
import type { PackageInputs } from './package-material';

/** @returns null where the session is gone */
export async function loadPackageInputs(sessionId: string): Promise<PackageInputs | null> {
  const session = await db().session.findFirst({
    where: { id: sessionId, teamId: localActor().teamId },
    select: {
      id: true,
      filesNumber: true,
      sources: {
        where: { type: 'telemetry', superseded: null },
        orderBy: { file: 'asc' },
        select: { file: true, folder: true },
      },
    },
  });
  if (session === null) return null;
  const { id, filesNumber, sources } = session;
  const edition = { id, filesNumber };
  const folder = originalFolder(edition);
  const recordings = await loadExportedRecordings(id);
  if (!(await pathExists(folder))) return { folder: null, texts: [], recordings, samples: [] };
  return {
    folder,
    texts: [...(await loadFolderTexts(edition))],
    recordings,
    samples: sources.filter(({ folder }) => folder !== ''),
  };
}
