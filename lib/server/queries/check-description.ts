/** What is wrong or open in a description of files, before anything is imported with it. */
import { findDisagreements } from '@/lib/core/intake/proposal/cross-check';
import { describedColumns } from '@/lib/core/intake/proposal/described-columns';
import {
  describedSession,
  missingTrack,
  openQuestions,
} from '@/lib/core/intake/proposal/described-session';
import type { SessionDescription } from '@/lib/core/intake/proposal/session-proposal';
import { hasErrors, type Issue } from '@/lib/core/result';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import { writeSessionFile } from '@/lib/core/session/write-session-file';
import type { Instant } from '@/lib/core/time/instant';
import type { UploadSketch } from '../uploads/upload-sketch';

export type CheckedDescription = Readonly<{
  /** null while something is open or wrong. */
  sessionYaml: string | null;
  issues: readonly Issue[];
}>;

/** Signs and units that contradict each other in the rows that were looked at. */
function contradictions(
  sketch: UploadSketch,
  description: SessionDescription,
  zero: Instant,
): readonly Issue[] {
  return description.files.flatMap((file) => {
    const table = sketch.files.find((each) => each.file === file.file)?.table ?? null;
    if (file.use !== 'telemetry' || table === null) return [];
    const columns = describedColumns(table, file, zero);
    if (columns === null) return [];
    return findDisagreements(columns).map(
      ({ kind, message }): Issue => ({
        code: `columns-disagree-${kind}`,
        severity: 'warning',
        file: file.file,
        message,
      }),
    );
  });
}

/** Files that are described but were not sent. */
function notSent(sketch: UploadSketch, { files }: SessionDescription): readonly Issue[] {
  const sent = new Set(sketch.files.map(({ file }) => file));
  return files.flatMap(({ file }): Issue[] =>
    sent.has(file)
      ? []
      : [{ code: 'file-missing', severity: 'error', file, message: 'is not among the files sent' }],
  );
}

/** Judges a description by the reader of session.yaml and by the rows that were looked at. */
export function checkDescription(
  sketch: UploadSketch,
  description: SessionDescription,
): CheckedDescription {
  const missing = notSent(sketch, description);
  if (missing.length > 0) return { sessionYaml: null, issues: missing };
  const open = openQuestions(description);
  if (open.length > 0) return { sessionYaml: null, issues: open };
  const sessionYaml = writeSessionFile(describedSession(description));
  const { value, issues } = readSessionFile(sessionYaml, 'session.yaml');
  if (value === null || hasErrors(issues)) return { sessionYaml: null, issues };
  const doubts = [...missingTrack(description), ...contradictions(sketch, description, value.zero)];
  return { sessionYaml, issues: [...issues, ...doubts] };
}
