/**
 * The import's own process: it unpacks, reads and checks a session folder and writes its samples.
 * It can be killed at any moment and cannot take the server with it; the database is not its business.
 */
import { answerParent } from './answer-parent';
import { capIssues } from './cap-issues';
import type { ImportAnswer, ImportRequestMessage, JobProgress } from './import-messages';
import { readUpload } from './read-upload';

/** How far it has come; the answer itself comes last. */
function tell(progress: JobProgress): void {
  const message: ImportAnswer = { kind: 'progress', progress };
  process.send?.(message);
}

answerParent(async (request: ImportRequestMessage): Promise<ImportAnswer> => {
  const done = await readUpload(request, tell);
  return { kind: 'read', ...done, issues: capIssues(done.issues) };
});
