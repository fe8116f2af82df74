/** Finds the session folder among uploaded files. */
import path from 'node:path';
import type { Issue } from '@/lib/core/result';
import { listFiles } from '../durable-files';
import { isSystemFile } from '../safe-path';
import { SESSION_FILES } from '../session-folder';

export const SESSION_FILE = 'session.yaml';
/** Code of the issue that no session file is there. */
export const NO_SESSION_FILE = 'no-session-file';

export type SessionRoot = Readonly<{ folder: string | null; issues: readonly Issue[] }>;

/** The folder itself, or the one folder in it that everything lies in. */
export async function findSessionRoot(folder: string): Promise<SessionRoot> {
  const names = (await listFiles(folder)).filter((name) => !isSystemFile(name));
  const places = names.filter((name) => isSessionFile(path.posix.basename(name)));
  const folders = new Set(places.map((name) => path.posix.dirname(name)));
  const top = [...folders].sort((a, b) => a.length - b.length);
  const [first] = top;
  if (first === undefined) return { folder: null, issues: [noSessionFile(names)] };
  if (top.length > 1 && first !== '.') return { folder: null, issues: [severalSessions(top)] };
  return { folder: path.join(folder, first), issues: [] };
}

function isSessionFile(name: string): boolean {
  return SESSION_FILES.some((known) => known === name);
}

function noSessionFile(names: readonly string[]): Issue {
  const shown = names.slice(0, 5).join(', ') + (names.length > 5 ? ', …' : '');
  const count = names.length === 1 ? 'one file' : `${names.length} files`;
  const found = names.length === 0 ? 'no files at all' : `${count}: ${shown}`;
  return {
    code: NO_SESSION_FILE,
    severity: 'error',
    file: SESSION_FILE,
    expected: SESSION_FILE,
    received: found,
    message: `There is no ${SESSION_FILE}, and no telemetry or log that could be described without one. Found: ${found}.`,
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
