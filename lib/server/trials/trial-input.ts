/** What a trial is asked for, as its job keeps it. */
import { z } from 'zod';

/** As many sessions are read in one trial. */
export const MOST_SESSIONS = 200;
/** As long as a file of a session folder may be. */
export const MOST_LETTERS = 1_000_000;

export const versionedKind = z.enum(['plan', 'rules']);

export const trialInput = z.object({
  kind: versionedKind,
  /** Entry of the register that the draft is for; null for a new one. */
  entryId: z.string().min(1).nullable(),
  text: z.string().min(1, 'There is nothing in it.').max(MOST_LETTERS, 'It is too long.'),
  sessionIds: z
    .array(z.string().min(1))
    .min(1, 'Choose a session.')
    .max(MOST_SESSIONS, `At most ${MOST_SESSIONS} sessions at once.`),
});

export type TrialInput = z.infer<typeof trialInput>;
