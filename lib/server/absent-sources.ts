/** Sources that a session names and that are not there: still to come, or lost. */
import type { Issue } from '@/lib/core/result';
import type { Absence, SessionFile, SourceSpec } from '@/lib/core/session/session-file';
import { findFile } from './folder-file';
import { findSourceFiles } from './source-files';

/** Codes of the notes that say that a source is missing, by what that means. */
export const ABSENCE_CODES: Readonly<Record<Absence['state'], string>> = {
  awaited: 'source-awaited',
  lost: 'source-lost',
};

const WORDS: Readonly<Record<Absence['state'], string>> = {
  awaited: 'is still awaited: nothing of it is in these figures',
  lost: 'is lost: what it alone could have said is not known',
};

async function isMissing(folder: string, source: SourceSpec): Promise<boolean> {
  if (source.type !== 'telemetry') {
    return (await findFile(folder, source.file)).issue?.code === 'file-missing';
  }
  const { parts, issues } = await findSourceFiles(folder, source.files);
  return parts.length === 0 && issues.every(({ code }) => code === 'file-missing');
}

export type PresentSources = Readonly<{
  /** The session without the sources that are not there. */
  session: SessionFile;
  /** One note for each that is not. */
  notes: readonly Issue[];
}>;

/** Leaves out the sources that session.yaml allows to be missing and that are. */
export async function withoutAbsent(folder: string, session: SessionFile): Promise<PresentSources> {
  const missing: Absence[] = [];
  for (const absence of session.absences) {
    const source = session.sources.find(({ file }) => file === absence.file);
    if (source !== undefined && (await isMissing(folder, source))) missing.push(absence);
  }
  const isPresent = ({ file }: SourceSpec): boolean => !missing.some((each) => each.file === file);
  return {
    session: { ...session, sources: session.sources.filter(isPresent) },
    notes: missing.map(({ file, state }) => ({
      code: ABSENCE_CODES[state],
      severity: 'note',
      file,
      message: `${file} ${WORDS[state]}`,
    })),
  };
}
