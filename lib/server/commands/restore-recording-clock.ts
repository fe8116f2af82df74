/** Takes the undoing of a word about the clock of a recording back. */
import { defineCommand } from './define-command';
import { clockPlace, setClockUndone } from './undo-recording-clock';

export const restoreRecordingClock = defineCommand({
  name: 'restore-recording-clock',
  ...clockPlace,
  run: (context, clock) => setClockUndone(context, clock, null),
});
