/** Parts of what a person's correction says, with the bounds that people.yaml has too. */
import { z } from 'zod';

const MOST_LETTERS = 2_000;

export const reasonInput = z
  .string()
  .trim()
  .min(1, 'A reason is needed.')
  .max(MOST_LETTERS, `At most ${MOST_LETTERS} letters.`);

const TOO_FAR = 'More than 30 years from zero is no time of a session.';

/** A time in seconds from zero. */
export const secondsInput = z.number('A time is needed.').min(-1e9, TOO_FAR).max(1e9, TOO_FAR);
