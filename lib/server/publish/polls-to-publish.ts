/** What was known at the instants that a draft asks for, as its publication takes it along. */
import { askedPolls } from '@/lib/core/debrief/asked-polls';
import type { DocNode } from '@/lib/core/debrief/document';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { DomainError } from '@/lib/core/result';
import { statesOrInput } from '../polls/known-states';
import { loadRenewal } from '../queries/load-renewal';
import type { MaterialOutline } from './full-material';
import type { PublishRequest } from './publish-messages';

/**
 * What is there of the states that the draft asks for. They are computed from what people have said by
 * now: while the session's other numbers are not, nothing is published that would mix the two.
 */
export async function pollsFor(
  sessionId: string,
  doc: DocNode,
  { parts }: MaterialOutline,
): Promise<PublishRequest['polls']> {
  const places = askedPolls(doc, BUILT_IN_BLOCKS, parts.reconstruction);
  if (places.length > 0 && (await loadRenewal(sessionId)) !== null) {
    const message =
      'Not published: the session has yet to be computed again, after a correction or by this version of the program, and its poll boards would be ahead of its other numbers.';
    throw new DomainError('not-up-to-date', message);
  }
  return statesOrInput(
    sessionId,
    places.map(({ atS }) => atS),
  );
}
