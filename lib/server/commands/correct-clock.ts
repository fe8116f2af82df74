/** A person's word about a clock: a spoken value accepted, corrected or kept out, a tie point set by hand. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import { requireSession } from './anchor-input';
import { reasonInput, secondsInput } from './correction-input';
import { defineCommand } from './define-command';
import { keepCorrection } from './keep-correction';

const reason = reasonInput;
const HOUR_S = 3_600;
const place = {
  source: z.string().min(1).max(400),
  line: z.int().min(1),
  nth: z.int().min(1),
};

/** The bounds of people.yaml: what is kept here can be written there and read back. */
const corrected = z.discriminatedUnion('quantity', [
  z.object({
    kind: z.literal('correct'),
    ...place,
    quantity: z.literal('range'),
    saidSi: z
      .number('A number is needed.')
      .positive('A range is more than 0.')
      .max(1e9, 'A range is at most 1,000,000 km.'),
    reason,
  }),
  z.object({
    kind: z.literal('correct'),
    ...place,
    quantity: z.literal('rate'),
    saidSi: z
      .number('A number is needed.')
      .min(-1e6, 'A rate is at most 1,000 km/s.')
      .max(1e6, 'A rate is at most 1,000 km/s.'),
    reason,
  }),
]);

const wordInput = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('accept'), ...place, reason }),
  z.object({ kind: z.literal('reject'), ...place, reason }),
  corrected,
  z.object({
    kind: z.literal('tie-point'),
    source: place.source,
    sourceS: secondsInput,
    sessionS: secondsInput,
    sdS: z
      .number('A number is needed.')
      .positive('More than 0 is needed.')
      .max(HOUR_S, `At most ${HOUR_S} s.`),
    reason,
  }),
]);

const input = z.object({ sessionId: z.string().min(1), word: wordInput });

export const correctClock = defineCommand({
  name: 'correct-clock',
  input,
  may: () => true,
  run: async (context, { sessionId, word }): Promise<Readonly<{ id: string; jobId: string }>> => {
    await requireSession(context, sessionId);
    const where = { sessionId, file: word.source, superseded: null };
    if ((await context.tx.sourceVersion.count({ where })) === 0) {
      throw new DomainError('no-such-source', `The session has no source ${word.source}.`);
    }
    const correction: ClockCorrection = { ...word, by: context.actor.name };
    return keepCorrection(context, { sessionId, kind: 'clock', correction });
  },
});
