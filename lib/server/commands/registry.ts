/** Every command of the program. Tests walk this list; nothing else needs it. */
import { cancelJob } from './cancel-job';
import { createAnnotation } from './create-annotation';
import { createFinding } from './create-finding';
import { editAnnotation } from './edit-annotation';
import { editFinding } from './edit-finding';
import { removeAnnotation } from './remove-annotation';
import { removeDemo } from './remove-demo';
import { removeSession } from './remove-session';
import { startImport } from './start-import';

export const commands = [
  startImport,
  cancelJob,
  removeSession,
  removeDemo,
  createFinding,
  editFinding,
  createAnnotation,
  editAnnotation,
  removeAnnotation,
] as const;
