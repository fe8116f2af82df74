/** Whether things happened in the order in which they must follow each other. */
import { bestFirst, type EvidenceKind, type Sighting } from './sighting';

/** One of several things in order, with all that was seen of it. */
export type OrderedThing = Readonly<{ name: string; sightings: readonly Sighting[] }>;

const KINDS: readonly EvidenceKind[] = ['motion', 'discrete', 'written', 'voice'];

function half(sighting: Sighting): number {
  return sighting.halfS ?? 0;
}

/** True where one kind of evidence, or the best of both, puts `later` before `earlier`. */
function isBefore(later: OrderedThing, earlier: OrderedThing): boolean {
  const pairs = KINDS.map((kind) => [
    later.sightings.find((one) => one.kind === kind),
    earlier.sightings.find((one) => one.kind === kind),
  ]).filter(([a, b]) => a !== undefined && b !== undefined);
  const best = [bestFirst(later.sightings)[0], bestFirst(earlier.sightings)[0]];
  return (pairs.length > 0 ? pairs : [best]).some(([a, b]) => {
    if (a === undefined || b === undefined) return false;
    return a.atS < b.atS - Math.hypot(half(a), half(b));
  });
}

/**
 * What stands out of order.
 *
 * Two things are compared by evidence of one kind where both have it, so that a lag between speaking
 * and moving is no fault; otherwise by the best of each. A difference inside the intervals is none.
 *
 * @param things in the order in which they must follow each other
 * @returns for each the words of what is wrong; `null` where nothing is
 */
export function findOutOfOrder(things: readonly OrderedThing[]): readonly (string | null)[] {
  return things.map((thing, index) => {
    const before = things.slice(0, index);
    if (thing.sightings.length === 0) {
      const later = things.slice(index + 1).find(({ sightings }) => sightings.length > 0);
      return later === undefined ? null : `not seen, though ${later.name} was`;
    }
    const passed = before.filter(
      (earlier) => earlier.sightings.length > 0 && isBefore(thing, earlier),
    );
    if (passed.length === 0) return null;
    return `before ${passed.map(({ name }) => name).join(' and ')}, which it must follow`;
  });
}
