/** What a rule's verdict rests on where the data under it are faulty. */
import { sessionTimeText } from '../time/session-time-text';
import type { MarginLine } from './margins';
import type { QuantityFault } from './rule-context';

/** Faults that are named one by one; the rest is counted. */
const MOST_NAMED = 2;

/** True where a fault touches a stretch in which the rule applies; a gap touches by its edges. */
function touches({ startS, endS }: QuantityFault, line: MarginLine): boolean {
  return line.pieces.some(({ from, to }) => {
    const firstS = line.tS[from] ?? Number.POSITIVE_INFINITY;
    const lastS = line.tS[to - 1] ?? Number.NEGATIVE_INFINITY;
    return startS <= lastS && endS >= firstS;
  });
}

function nameOf({ what, channel, startS, endS }: QuantityFault): string {
  const where = channel === null ? '' : ` in ${channel}`;
  const until = endS - startS < 0.1 ? '' : ` to ${sessionTimeText(endS, 1)}`;
  return `${what}${where}, ${sessionTimeText(startS, 1)}${until}`;
}

/**
 * A sentence on the faults over which a rule was evaluated.
 *
 * @param faults of the channels that the rule's quantity is made of
 * @param line where the rule applies
 * @returns the sentence with a space before it; '' where no fault touches
 */
export function faultWords(faults: readonly QuantityFault[], line: MarginLine): string {
  const under = faults.filter((fault) => touches(fault, line));
  if (under.length === 0) return '';
  const named = under.slice(0, MOST_NAMED).map(nameOf).join('; ');
  const more = under.length - MOST_NAMED;
  const rest = more <= 0 ? '' : `; and ${more} more`;
  return ` It was evaluated over faults of the data: ${named}${rest}.`;
}
