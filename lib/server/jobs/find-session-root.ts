/** Finds the session folder among uploaded files. */
import path from 'node:path';
import type { Issue } from '@/lib/core/result';
import { listFiles } from '../durable-files';
import { isSystemFile } from '../safe-path';

export const SESSION_FILE = 'session.yaml';
/** Code of the issue that no session file is there. */
export const NO_SESSION_FILE = 'no-session-file';

export type SessionRoot = Readonly<{ folder: string | null; issues: readonly Issue[] }>;

/** The folder itself, or the one folder in it that everything lies in. */
export async function findSessionRoot(folder: string): Promise<SessionRoot> {
  const names = (await listFiles(folder)).filter((name) => !isSystemFile(name));
  const places = names.filter((name) => path.posix.basename(name) === SESSION_FILE);
  const top = places.map((name) => path.posix.dirname(name)).sort((a, b) => a.length - b.length);
  const [first] = top;
  if (first === undefined) return { folder: null, issues: [noSessionFile(names)] };
  if (top.length > 1 && first !== '.') return { folder: null, issues: [severalSessions(top)] };
  return { folder: path.join(folder, first), issues: [] };
}

function noSessionFile(names: readonly string[]): Issue {
  const shown = names.slice(0, 5).join(', ') + (names.length > 5 ? ', …' : '');
  const found = names.length === 0 ? 'no files at all' : `${names.length} file(s): ${shown}`;
  return {
    code: NO_SESSION_FILE,
    severity: 'error',
    file: SESSION_FILE,
    expected: SESSION_FILE,
    received: found,
    message: `There is no ${SESSION_FILE}. It gives the session's zero and says of each file how its times and columns are to be read. Found: ${found}.`,
  };
}

function severalSessions(folders: readonly string[]): Issue {
  return {
    code: 'several-sessions',
    severity: 'error',
    file: SESSION_FILE,
    message: `There are ${folders.length} session folders (${folders.join(', ')}): import one at a time.`,
  };
}
