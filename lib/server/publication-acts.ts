/** What was done to a revision after it was published and does not hold any more. */
import { z } from 'zod';
import { parseJson } from './rows';

const actsSchema = z.array(
  z.object({
    kind: z.enum(['withdrawn', 'restored']),
    by: z.string(),
    atIso: z.string(),
    reason: z.string(),
  }),
);

export type PublicationAct = z.infer<typeof actsSchema>[number];

/** Oldest first. @param text as the row holds it */
export function publicationActs(text: string): readonly PublicationAct[] {
  return parseJson(actsSchema, text);
}
