/** What the stamps of a file mean, as far as the name of their column says it. */
import type { Availability, StampMeaning } from '../../session/stamping';
import { columnWords } from './column-words';

/** As a person says it in the form; `latency` is as typed, s, empty where nothing is said. */
export type DescribedStamping = Readonly<{
  stamp: StampMeaning | null;
  latency: string;
  available: Availability | null;
}>;

export const NOTHING_SAID: DescribedStamping = { stamp: null, latency: '', available: null };

/** Words in names of columns of times; common practice, no source. */
const WORDS: Readonly<Record<StampMeaning, RegExp>> = {
  received: /^(?:received?|receipt|reception|recv|rcvd?|rx|arrival|arrived|ert|ground)$/,
  generated: /^(?:generated?|generation|gen|created|creation|packet|pkt|sent|tx)$/,
  measured:
    /^(?:measured?|measurement|meas|sampled?|sample|observed|observation|obs|valid|validity)$/,
};

/**
 * Proposes what stamps mean.
 *
 * @param columns names of the columns of the times
 * @returns the meaning that one of the names says, and why; null where none does, or two differ
 */
export function proposeMeaning(
  columns: readonly string[],
): Readonly<{ stamp: StampMeaning; reason: string }> | null {
  const found = columns.flatMap((name) => {
    const { words } = columnWords(name);
    const kinds = Object.entries(WORDS) as readonly [StampMeaning, RegExp][];
    return kinds.flatMap(([stamp, form]) =>
      words.some((word) => form.test(word)) ? [{ stamp, name }] : [],
    );
  });
  const [first, ...others] = found;
  if (first === undefined || others.some(({ stamp }) => stamp !== first.stamp)) return null;
  return {
    stamp: first.stamp,
    reason: `"${first.name}" reads as the moment when a row was ${first.stamp}`,
  };
}
