/** Which phase, exceedance, callout, event or fault of a newer reconstruction is which of an older. */
import type { Figure } from '../figure';
import type { Reconstruction } from './reconstruction';

/** What a reconstruction lists by place, so that a key names it by a number. */
export const PLACE_KINDS = ['phases', 'exceedances', 'callouts', 'data_quality', 'events'] as const;
export type PlaceKind = (typeof PLACE_KINDS)[number];

/** For each place in the newer list the place in the older one; null for what is new. */
type Older = readonly (number | null)[];

export type PlaceMatch = Readonly<Record<PlaceKind, Older>>;

/**
 * How things of one name are told apart. `overlap`: by where they lie in time. `in-order`: as many
 * of them on both sides are the same ones, wherever they lie; else by overlap.
 */
type Name = Readonly<{ text: string; rule: 'in-order' | 'overlap' }>;

/** The first name is tried first, the next for what is left over; session time, s. */
type Thing = Readonly<{ names: readonly Name[]; startS: number; endS: number }>;

type Placed = Thing & Readonly<{ index: number }>;
type Pair = (older: number, newer: number) => void;

/** Two that may be the same thing lie on each other, or no farther apart than this, s. Our choice. */
const NEAR_S = 1;

function groupsOf(
  things: readonly Thing[],
  round: number,
  isFree: (index: number) => boolean,
): ReadonlyMap<string, Placed[]> {
  const groups = new Map<string, Placed[]>();
  things.forEach((thing, index) => {
    const text = thing.names[round]?.text;
    if (text === undefined || !isFree(index)) return;
    const group = groups.get(text);
    if (group === undefined) groups.set(text, [{ ...thing, index }]);
    else group.push({ ...thing, index });
  });
  for (const group of groups.values()) group.sort((a, b) => a.startS - b.startS);
  return groups;
}

/** Pairs that lie on each other, those that share the most time first; both in time order. */
function pairByOverlap(before: readonly Placed[], after: readonly Placed[], pair: Pair): void {
  const pairs: Readonly<{ older: Placed; newer: Placed; sharedS: number }>[] = [];
  let first = 0;
  for (const newer of after) {
    // What ended before this one begins is done with.
    while (first < before.length && (before[first]?.endS ?? 0) < newer.startS - NEAR_S) first += 1;
    for (const older of before.slice(first)) {
      if (older.startS > newer.endS + NEAR_S) break;
      const sharedS = Math.min(older.endS, newer.endS) - Math.max(older.startS, newer.startS);
      if (sharedS >= -NEAR_S) pairs.push({ older, newer, sharedS });
    }
  }
  pairs.sort((a, b) => b.sharedS - a.sharedS);
  for (const { older, newer } of pairs) pair(older.index, newer.index);
}

function matchThings(before: readonly Thing[], after: readonly Thing[]): Older {
  const found = after.map((): number | null => null);
  const taken = new Set<number>();
  const pair: Pair = (older, newer) => {
    if (taken.has(older) || found[newer] !== null) return;
    taken.add(older);
    found[newer] = older;
  };
  const rounds = Math.max(0, ...after.slice(0, 1).map(({ names }) => names.length));
  for (let round = 0; round < rounds; round += 1) {
    const older = groupsOf(before, round, (index) => !taken.has(index));
    for (const [text, ofNewer] of groupsOf(after, round, (index) => found[index] === null)) {
      const ofOlder = older.get(text) ?? [];
      const rule = ofNewer[0]?.names[round]?.rule;
      if (rule === 'in-order' && ofOlder.length === ofNewer.length) {
        ofOlder.forEach(({ index }, at) => {
          pair(index, ofNewer[at]?.index ?? -1);
        });
      } else {
        pairByOverlap(ofOlder, ofNewer, pair);
      }
    }
  }
  return found;
}

/** Where a time is not known nothing lies on it. */
const timeOf = ({ value }: Figure): number => value ?? Number.NEGATIVE_INFINITY;
const named = (rule: Name['rule'], ...parts: readonly (string | number | null)[]): Name => {
  return { text: JSON.stringify(parts), rule };
};

/** Words by what they say; where they were reworded, by their source and time. */
const said = (timeS: number, source: string, ...words: readonly (string | number | null)[]) => {
  const names = [named('in-order', source, ...words), named('overlap', source)];
  return { names, startS: timeS, endS: timeS };
};

const THINGS: Readonly<Record<PlaceKind, (of: Reconstruction) => readonly Thing[]>> = {
  phases: ({ phases }) =>
    phases.map(({ step, motion, startS, endS }) => ({
      // A step that was flown at another time is the same one; what no step asked for is not.
      names: [named(step === null ? 'overlap' : 'in-order', step, motion)],
      startS: timeOf(startS),
      endS: timeOf(endS),
    })),
  exceedances: ({ exceedances }) =>
    exceedances.map(({ rule, startS, endS }) => ({
      names: [named('overlap', rule)],
      startS: timeOf(startS),
      endS: timeOf(endS),
    })),
  callouts: ({ callouts }) =>
    callouts.map(({ timeS, source, kind, text, nth }) => said(timeS, source, kind, text, nth)),
  data_quality: ({ dataQuality }) =>
    dataQuality.map(({ kind, source, channel, startS, endS }) => ({
      names: [named('overlap', kind, source, channel)],
      startS,
      endS,
    })),
  events: ({ events }) =>
    events.map(({ timeS, source, event, text, speaker }) =>
      said(timeS, source, event, text, speaker),
    ),
};

/**
 * Matches what two reconstructions list by place.
 *
 * Phases by step and motion, exceedances by rule, faults by kind and channel, each where they lie on
 * each other in time; callouts and events by their source and words. So one more in the middle
 * changes nothing of those after it.
 *
 * @param before the older reconstruction
 * @param after the newer one, of the same session
 * @returns each newer place with the older one; no older place is named twice
 */
export function matchPlaces(before: Reconstruction, after: Reconstruction): PlaceMatch {
  const match = (kind: PlaceKind): Older => matchThings(THINGS[kind](before), THINGS[kind](after));
  return {
    phases: match('phases'),
    exceedances: match('exceedances'),
    callouts: match('callouts'),
    data_quality: match('data_quality'),
    events: match('events'),
  };
}
