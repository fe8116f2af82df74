/** Channels that hold a state: when they change, and when a flag goes up. */
import type { Sighting } from './sighting';

/** A channel of states over time: NaN = not known. */
export type DiscreteColumn = Readonly<{
  source: string;
  channel: string;
  tS: Float64Array;
  values: Float64Array;
}>;

/** A change of state between two rows. */
export type StateChange = Readonly<{ fromS: number; atS: number; from: number; to: number }>;

/**
 * Changes of a state, between rows with a value.
 *
 * @param most so many are returned; a channel that changes all the time is no state
 * @returns by time; `atS` is the first row with the new state, `fromS` the last with the old
 */
export function stateChanges(column: DiscreteColumn, most: number): readonly StateChange[] {
  const { tS, values } = column;
  const changes: StateChange[] = [];
  let before = Number.NaN;
  let beforeS = Number.NaN;
  for (let row = 0; row < values.length && changes.length < most; row++) {
    const here = values[row] ?? Number.NaN;
    if (Number.isNaN(here)) continue;
    const atS = tS[row] ?? Number.NaN;
    if (here !== before && !Number.isNaN(before)) {
      changes.push({ fromS: beforeS, atS, from: before, to: here });
    }
    before = here;
    beforeS = atS;
  }
  return changes;
}

/** A change as evidence: it happened between two rows, so its half-width is half of the way. */
export function changeSighting(column: DiscreteColumn, change: StateChange): Sighting {
  const { source, channel } = column;
  return {
    kind: 'discrete',
    atS: (change.fromS + change.atS) / 2,
    halfS: 0.475 * (change.atS - change.fromS),
    words: `${channel} ${change.from} to ${change.to}`,
    source,
    line: null,
    channels: [channel],
    method: 'Middle between the last row with the old state and the first with the new.',
  };
}

/**
 * When a flag first goes up: from 0 to anything above.
 *
 * @returns `null` where it never does, or stood up from the first row on
 */
export function flagSighting(column: DiscreteColumn): Sighting | null {
  const up = stateChanges(column, 1000).find(({ from, to }) => from <= 0 && to > 0);
  return up === undefined ? null : changeSighting(column, up);
}

/**
 * Largest count a channel shows up to an instant.
 *
 * @returns the count and when it is first reached; `null` without a value by then
 */
export function largestCount(
  column: DiscreteColumn,
  untilS: number,
): Readonly<{ count: number; atS: number }> | null {
  let best: { count: number; atS: number } | null = null;
  for (let row = 0; row < column.values.length; row++) {
    const atS = column.tS[row] ?? Number.NaN;
    if (atS > untilS) break;
    const count = column.values[row] ?? Number.NaN;
    if (!Number.isNaN(count) && (best === null || count > best.count)) best = { count, atS };
  }
  return best;
}
