/** The instants that a document asks for. */
import type { PollState } from '../reconstruction/poll-state';
import type { Reconstruction } from '../reconstruction/reconstruction';
import type { DocNode } from './document';
import type { BlockRegistry } from './nodes/block';
import { MOST_POLLS, type PollPlace, type StatedPoll } from './poll-place';

/**
 * Instants at which what was known has to be computed for a document.
 *
 * @returns each once, in the order of the document, no more than a document may ask for
 */
export function askedPolls(
  doc: DocNode,
  registry: BlockRegistry,
  reconstruction: Reconstruction,
): readonly PollPlace[] {
  const found = new Map<string, PollPlace>();
  const visit = (node: DocNode): void => {
    for (const place of registry.get(node.type)?.polls(node.attrs, reconstruction) ?? []) {
      if (found.size < MOST_POLLS) found.set(place.key, place);
    }
    for (const child of node.content ?? []) visit(child);
  };
  visit(doc);
  return [...found.values()];
}

/** The places whose states are there, by instant. */
export function statedPolls(
  places: readonly PollPlace[],
  states: ReadonlyMap<number, PollState>,
): readonly StatedPoll[] {
  return places.flatMap((place): readonly StatedPoll[] => {
    const state = states.get(place.atS);
    return state === undefined ? [] : [{ place, state }];
  });
}
