'use server';

import type { SessionDescription } from '@/lib/core/intake/proposal/session-proposal';
import { describeUpload } from '@/lib/server/commands/describe-upload';
import { descriptionInput } from '@/lib/server/commands/description-input';
import { checkDescription } from '@/lib/server/queries/check-description';
import { type CommandResult, runCommand } from '@/lib/server/run-command';
import { readUploadSketch } from '@/lib/server/uploads/upload-sketch';
import { gravestFirst, type IssueRow, issueRows } from '@/lib/view/import-view';

/** What is open or doubtful in it; null when the upload is gone. */
export async function checkDescriptionAction(
  uploadId: string,
  description: SessionDescription,
): Promise<readonly IssueRow[] | null> {
  const read = descriptionInput.safeParse(description);
  const sketch = await readUploadSketch(uploadId);
  if (sketch === null) return null;
  if (!read.success) {
    const [first] = read.error.issues;
    const place = first?.path.join('.') ?? '';
    const message = `this cannot be read: ${place} ${first?.message ?? ''}`;
    return issueRows([{ code: 'description-unreadable', severity: 'error', message }]);
  }
  return issueRows(gravestFirst(checkDescription(sketch, read.data).issues));
}

export async function describeUploadAction(
  uploadId: string,
  description: SessionDescription,
): Promise<CommandResult<Readonly<{ jobId: string }>>> {
  return runCommand(describeUpload, { uploadId, description });
}
