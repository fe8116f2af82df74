/** Which instant a block asks for: a poll of a log, wherever its clock puts it now, or a stated time. */
import { z } from 'zod';
import type { Figure } from '../figure';
import { matchPlaces } from '../reconstruction/match-places';
import type { PollState } from '../reconstruction/poll-state';
import type { Reconstruction, SessionEvent } from '../reconstruction/reconstruction';

/** Name of a poll in the `event` column of a log. */
const POLL_EVENT = 'poll';

/** Most instants that one document may ask for: each is a computation of its own. Our own choice. */
export const MOST_POLLS = 24;

/** Most UTF-16 units of a poll's words that a draft keeps. */
const MOST_WORDS = 2000;

/**
 * As a draft keeps it: the entry of a log by file, line and words, or session time in seconds. The
 * words find the entry again where a file that was put in its place has it on another line.
 */
export const pollReferenceSchema = z.union([
  z.number().min(-1e9).max(1e9),
  z.strictObject({
    source: z.string().min(1).max(400),
    line: z.number().int().min(0).max(1e9),
    words: z.string().max(MOST_WORDS),
  }),
]);
export type PollReference = z.infer<typeof pollReferenceSchema>;

/** An instant of one reconstruction. `key` begins the keys of its figures, `entry` is the poll. */
export type PollPlace = Readonly<{ key: string; atS: number; entry: SessionEvent | null }>;

/** A place with what was known there. */
export type StatedPoll = Readonly<{ place: PollPlace; state: PollState }>;

/** No character is cut in two: half a one has no place in a record. */
const wordsOf = ({ text }: SessionEvent): string =>
  Array.from(text ?? '')
    .slice(0, MOST_WORDS / 2)
    .join('');

function placeOf(entry: SessionEvent): PollPlace {
  return { key: `polls[${entry.source}:${entry.line}]`, atS: entry.timeS, entry };
}

/** Entries named `poll` of all logs, by time. */
export function pollsOf({ events }: Pick<Reconstruction, 'events'>): readonly PollPlace[] {
  return events.filter(({ event }) => event === POLL_EVENT).map(placeOf);
}

/** An instant that no poll is at. */
export function instantPlace(atS: number): PollPlace {
  return { key: `polls[${atS}]`, atS, entry: null };
}

/** How a draft keeps a place. */
export function referenceTo({ entry, atS }: PollPlace): PollReference {
  if (entry === null) return atS;
  return { source: entry.source, line: entry.line, words: wordsOf(entry) };
}

/**
 * Finds the instant again.
 *
 * @returns null where the log no longer has the poll: none with these words on that line, and not
 *   exactly one with these words elsewhere in it
 */
export function findPoll(reconstruction: Reconstruction, at: PollReference): PollPlace | null {
  if (typeof at === 'number') return instantPlace(at);
  const same = pollsOf(reconstruction).filter(
    ({ entry }) => entry !== null && entry.source === at.source && wordsOf(entry) === at.words,
  );
  const own = same.find(({ entry }) => entry?.line === at.line);
  return own ?? (same.length === 1 ? (same[0] ?? null) : null);
}

/** The last poll before contact, of all where there was none; null for a session without polls. */
export function lastPollBeforeContact(reconstruction: Reconstruction): PollPlace | null {
  const contactS = reconstruction.contact?.timeS.value ?? Number.POSITIVE_INFINITY;
  return pollsOf(reconstruction).findLast(({ atS }) => atS < contactS) ?? null;
}

function timeOf({ atS, entry }: PollPlace, { sources }: Reconstruction): Figure {
  const own = sources.filter(({ file }) => file === entry?.source);
  return {
    value: atS,
    unit: 's',
    uncertainty: null,
    method:
      entry === null
        ? 'The instant that was asked for.'
        : `Stamp of the log entry on line ${entry.line}, put onto session time.`,
    evidence: {
      sources: own.map(({ file, sha256 }) => ({ file, sha256 })),
      channels: [],
      fromS: atS,
      toS: atS,
    },
  };
}

/**
 * Figures of a state by key: `polls[voice.csv:12].rules[corridor].margin`, `polls[600].range_m`, ...
 * Those that were not known are left out.
 */
export function pollFigures(
  { place, state }: StatedPoll,
  reconstruction: Reconstruction,
): readonly (readonly [string, Figure])[] {
  const found: readonly (readonly [string, Figure | null])[] = [
    ['time_s', timeOf(place, reconstruction)],
    ['range_m', state.rangeM],
    ['closing_rate_mps', state.closingMps],
    ['motion_age_s', state.motionAgeS],
    ...state.rules.flatMap((rule): (readonly [string, Figure | null])[] => [
      [`rules[${rule.id}].value`, rule.value],
      [`rules[${rule.id}].limit`, rule.limit],
      [`rules[${rule.id}].margin`, rule.margin],
      [`rules[${rule.id}].trend`, rule.trendPerS],
      [`rules[${rule.id}].age_s`, rule.ageS],
    ]),
    ...state.sources.map(({ file, ageS }) => [`sources[${file}].age_s`, ageS] as const),
  ];
  return found.flatMap(([name, figure]) =>
    figure === null ? [] : [[`${place.key}.${name}`, figure] as const],
  );
}

const TIMED = /^polls\[(-?\d[\d.e+-]*)\]\./;

/**
 * The instants whose figures some keys name.
 *
 * @param keys of any figures, as a record quotes them
 * @returns each once, in the order of the session's polls and then of the keys; a poll that the
 *   session has not is left out
 */
export function pollsOfKeys(
  keys: readonly string[],
  reconstruction: Reconstruction,
): readonly PollPlace[] {
  const own = keys.filter((key) => key.startsWith('polls['));
  if (own.length === 0) return [];
  const entries = pollsOf(reconstruction).filter(({ key }) =>
    own.some((each) => each.startsWith(`${key}.`)),
  );
  const times = new Map(
    own.flatMap((key): (readonly [number, PollPlace])[] => {
      const atS = Number(TIMED.exec(key)?.[1]);
      return Number.isFinite(atS) ? [[atS, instantPlace(atS)]] : [];
    }),
  );
  return [...entries, ...times.values()].slice(0, MOST_POLLS);
}

/**
 * Instants of an older reconstruction where they lie in a newer one, under their older keys.
 *
 * @returns a poll that the newer one no longer has is left out
 */
export function sameInstants(
  places: readonly PollPlace[],
  older: Reconstruction,
  newer: Reconstruction,
): readonly PollPlace[] {
  const { events: olderOf } = matchPlaces(older, newer);
  return places.flatMap((place): readonly PollPlace[] => {
    if (place.entry === null) return [place];
    const at = older.events.indexOf(place.entry);
    const entry = newer.events[olderOf.indexOf(at)];
    return entry?.event === POLL_EVENT ? [{ key: place.key, atS: entry.timeS, entry }] : [];
  });
}
