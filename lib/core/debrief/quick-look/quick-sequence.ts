/** Which things of the sequence a first look has room for. */
import type { SequenceItem } from '../../reconstruction/reconstruction';

/** What is wanted first where there is no room for all. */
const WEIGHT: Readonly<Record<SequenceItem['kind'], number>> = {
  contact: 0,
  step: 1,
  capture: 2,
  run: 3,
  zone: 4,
  event: 5,
  state: 6,
};

/**
 * The things that matter most, in the order flown.
 *
 * @param sequence all of it, in that order
 * @param most how many
 */
export function chosenSequence(
  sequence: readonly SequenceItem[],
  most: number,
): readonly SequenceItem[] {
  return sequence
    .map((item, index) => ({ item, index }))
    .sort((a, b) => WEIGHT[a.item.kind] - WEIGHT[b.item.kind] || a.index - b.index)
    .slice(0, most)
    .sort((a, b) => a.index - b.index)
    .map(({ item }) => item);
}
