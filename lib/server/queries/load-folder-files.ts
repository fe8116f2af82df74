/** Names of all files of a session's folder. */
import { cache } from 'react';
import { listFiles } from '../durable-files';
import { originalFolder } from '../jobs/session-files';
import { loadSessionHeader } from './load-session-header';

/** @returns names with forward slashes, sorted; empty where the folder is gone */
export const loadFolderFiles = cache(async (sessionId: string): Promise<readonly string[]> => {
  const header = await loadSessionHeader(sessionId);
  if (header === null) return [];
  return listFiles(originalFolder(header)).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [];
    throw error;
  });
});
