/** Files that lie in a session folder and that its session file does not name. */
import path from 'node:path';
import type { Issue } from '@/lib/core/result';
import type { SessionFile } from '@/lib/core/session/session-file';
import { listFiles } from './durable-files';
import { isSystemFile, shownName } from './safe-path';
import { findSourceFiles, MOST_RUNS } from './source-files';

/** Read without being named. */
const ALWAYS_READ = ['session.yaml', 'session.yml', 'session.json', 'people.yaml'];
/** About the folder, not about the flight. */
const ABOUT = /^(?:\..*|readme|licen[cs]e|copying)(?:\.[a-z]+)?$/i;
const MOST_LISTED = 6;

/** Some of the names, and how many more. */
export function listedNames(names: readonly string[]): string {
  const shown = names.slice(0, MOST_LISTED).map(shownName).join(', ');
  return names.length > MOST_LISTED ? `${shown} and ${names.length - MOST_LISTED} more` : shown;
}

/**
 * @param folder the session folder
 * @param session as its session file says
 * @param alsoNamed files of sources that are not understood
 * @returns names with forward slashes, sorted
 */
export async function unusedFiles(
  folder: string,
  session: Pick<SessionFile, 'sources' | 'planFile' | 'rulesFile' | 'simulations'>,
  alsoNamed: readonly string[] = [],
): Promise<readonly string[]> {
  const { sources, planFile, rulesFile, simulations } = session;
  const named = sources.flatMap((source) =>
    source.type === 'telemetry' ? source.files : [source.file],
  );
  const patterns = simulations === null ? named : [...named, simulations.files];
  const { parts } = await findSourceFiles(folder, patterns, MOST_RUNS);
  const used = new Set([...ALWAYS_READ, ...named, ...alsoNamed, planFile, rulesFile]);
  for (const { name } of parts) used.add(name);
  return (await listFiles(folder)).filter(
    (name) => !used.has(name) && !isSystemFile(name) && !ABOUT.test(path.posix.basename(name)),
  );
}

/** One note for all files that nothing names; none where there is none. */
export function unusedNote(names: readonly string[]): readonly Issue[] {
  if (names.length === 0) return [];
  const [which, them] =
    names.length === 1 ? ['one file is', 'it'] : [`${names.length} files are`, 'them'];
  return [
    {
      code: 'file-unused',
      severity: 'note',
      file: 'session.yaml',
      message: `${which} named nowhere, so nothing was read from ${them}: ${listedNames(names)}`,
    },
  ];
}
