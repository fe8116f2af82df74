/** Every command of the program. Tests walk this list; nothing else needs it. */
import { addRunSession } from './add-run-session';
import { answerCrewQuestion } from './answer-crew-question';
import { approveDebrief } from './approve-debrief';
import { askCrew } from './ask-crew';
import { attachRecording } from './attach-recording';
import { cancelJob } from './cancel-job';
import { clockRecording } from './clock-recording';
import { correctClock } from './correct-clock';
import { correctPhase } from './correct-phase';
import { correctStretch } from './correct-stretch';
import { createAnnotation } from './create-annotation';
import { createFinding } from './create-finding';
import { createModelChange } from './create-model-change';
import { defineTask } from './define-task';
import { deleteRecordingFile } from './delete-recording-file';
import { describeUpload } from './describe-upload';
import { disposeRule } from './dispose-rule';
import { draftDebrief } from './draft-debrief';
import { editAnnotation } from './edit-annotation';
import { editArrangement } from './edit-arrangement';
import { editCrewQuestion } from './edit-crew-question';
import { editFinding } from './edit-finding';
import { editModelChange } from './edit-model-change';
import { giveRating } from './give-rating';
import { giveTaskLoad } from './give-task-load';
import { keepArrangement } from './keep-arrangement';
import { publishDebrief } from './publish-debrief';
import { putInUse } from './put-in-use';
import { removeAnnotation } from './remove-annotation';
import { removeCrewQuestion } from './remove-crew-question';
import { removeDemo } from './remove-demo';
import { removeModelChange } from './remove-model-change';
import { removeRecording } from './remove-recording';
import { removeSession } from './remove-session';
import { replaceFile } from './replace-file';
import { requireRoles } from './require-roles';
import { restoreCorrection } from './restore-correction';
import { restoreCrewQuestion } from './restore-crew-question';
import { restoreDebrief } from './restore-debrief';
import { restoreRecording } from './restore-recording';
import { restoreRecordingClock } from './restore-recording-clock';
import { saveDebrief } from './save-debrief';
import { saveVersion } from './save-version';
import { sendBlock } from './send-block';
import { setNumberScheme } from './set-number-scheme';
import { startImport } from './start-import';
import { tryVersion } from './try-version';
import { undoCorrection } from './undo-correction';
import { undoFolderCorrection } from './undo-folder-correction';
import { undoModelChange } from './undo-model-change';
import { undoRecordingClock } from './undo-recording-clock';
import { withdrawApproval } from './withdraw-approval';
import { withdrawDebrief } from './withdraw-debrief';

export const commands = [
  addRunSession,
  startImport,
  describeUpload,
  correctClock,
  correctStretch,
  correctPhase,
  disposeRule,
  defineTask,
  giveRating,
  giveTaskLoad,
  undoCorrection,
  undoFolderCorrection,
  restoreCorrection,
  replaceFile,
  cancelJob,
  removeSession,
  removeDemo,
  createFinding,
  editFinding,
  createModelChange,
  editModelChange,
  removeModelChange,
  undoModelChange,
  askCrew,
  editCrewQuestion,
  answerCrewQuestion,
  removeCrewQuestion,
  restoreCrewQuestion,
  attachRecording,
  clockRecording,
  undoRecordingClock,
  restoreRecordingClock,
  removeRecording,
  restoreRecording,
  deleteRecordingFile,
  createAnnotation,
  editAnnotation,
  removeAnnotation,
  draftDebrief,
  saveDebrief,
  sendBlock,
  approveDebrief,
  withdrawApproval,
  requireRoles,
  publishDebrief,
  withdrawDebrief,
  restoreDebrief,
  setNumberScheme,
  tryVersion,
  saveVersion,
  putInUse,
  keepArrangement,
  editArrangement,
] as const;
