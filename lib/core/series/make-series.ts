/** The one way to a Series: its invariants are checked here and relied on afterwards. */
import { invariant } from '../result';
import type { Series } from './series';

/**
 * A series whose columns are equally long and whose times ascend strictly.
 *
 * @param parts columns are taken over, not copied; the caller gives them away
 * @returns the series; stops on columns that differ in length, times that do not ascend, or a time
 *   that is no number: a reader takes such rows out and reports them before
 */
export function makeSeries(parts: Series): Series {
  const { tS, values } = parts;
  invariant(tS.length === values.length, 'series columns differ in length');
  for (let i = 0; i < tS.length; i++) {
    invariant(Number.isFinite(tS[i]!), 'series time is not a number');
    if (i > 0) invariant(tS[i]! > tS[i - 1]!, 'series times do not ascend strictly');
  }
  return parts;
}
