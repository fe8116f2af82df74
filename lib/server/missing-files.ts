/** A file that session.yaml names and the folder does not hold: the key, and what lies there instead. */

import type { Issue } from '@/lib/core/result';
import { findFileKey } from '@/lib/core/session/find-file-key';
import { listedNames } from './unused-files';

const ABSENT = '"absent: awaited" (still to come) or "absent: lost" beside it';

/**
 * Tells a missing file by its key in the session file, with the files that nothing names.
 *
 * @param session name and text of the session file
 * @param unused files of the folder that nothing names
 */
export function explainMissing(
  issues: readonly Issue[],
  session: Readonly<{ fileName: string; text: string }>,
  unused: readonly string[],
): readonly Issue[] {
  return issues.map((issue) => {
    const { code, file: name = '', message } = issue;
    const isStopped = code === 'file-missing' && issue.severity === 'error';
    const key = isStopped ? findFileKey(session.text, name) : null;
    if (key === null) return issue;
    const { keyPath, line, isSource } = key;
    const lying =
      unused.length === 0 ? '' : `; lying there and named nowhere: ${listedNames(unused)}`;
    return {
      ...issue,
      file: session.fileName,
      keyPath,
      line,
      message: `"${name}": ${message}${lying}`,
      expected: isSource ? `a file of the folder, or ${ABSENT}` : 'a file of the folder',
      received: name,
    };
  });
}
