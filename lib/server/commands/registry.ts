/** Every command of the program. Tests walk this list; nothing else needs it. */
import { createAnnotation } from './create-annotation';
import { createFinding } from './create-finding';
import { editAnnotation } from './edit-annotation';
import { editFinding } from './edit-finding';
import { removeAnnotation } from './remove-annotation';

export const commands = [
  createFinding,
  editFinding,
  createAnnotation,
  editAnnotation,
  removeAnnotation,
] as const;
