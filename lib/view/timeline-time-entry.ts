/** A time as somebody types it, in any code the session knows, onto session time. */
import { formatInstant } from '../core/time/format';
import { parseInstant } from '../core/time/parse';
import type { TimeScale } from '../core/time/time-code';
import type { TimeWindow } from './charts/time-window';
import { formatSessionTime, formatStretch } from './format-time';
import type { TimelineClock } from './timeline-clock';
import { parseSessionTime } from './timeline-readout';

export type TimeEntry =
  | Readonly<{
      ok: true;
      tS: number;
      /** How it was understood, where that was not said; empty otherwise. */
      note: string;
    }>
  | Readonly<{ ok: false; problem: string }>;

export type EntryPlace = Readonly<{
  session: TimeWindow;
  zeroTaiNs: string;
  /** What mission time counts from, integer TAI nanoseconds; null or absent where the session declares none. */
  missionZeroTaiNs?: string | null;
  /** The clock of the axis: unmarked text is read as it writes, before anything else. */
  clock?: TimelineClock;
}>;

const DAY_NS = 86_400_000_000_000n;
const FORMS = 'hh:mm:ss, seconds, or a clock time such as 09:30:44 UTC';
const MISSION_FORM = ', or mission time such as 01:09:30 MET';
/** Mission elapsed time, as it is marked in the trade. */
const MISSION = /^(.*?)\s*\bMET$/i;
const CLOCK = /^\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?$/;
const DATED = /^\d{4}-(?:\d{2}-\d{2}|\d{3})[T ]/;

/**
 * Reads a time of the session.
 *
 * Unmarked text is a time of the axis, else session time: `00:18:14.5`, `18:14`, `1094.5`. Marked with UTC, Z, TAI, GPS or TT,
 * or with a date, it is that scale's clock; marked with MET it is mission time, where the session declares any; a clock without a date stands on the session's own day. An
 * unmarked clock time that is no session time of this session, but lies in it as UTC, is taken as UTC
 * and said so. Nothing outside the session is moved to its ends.
 */
export function readTimeEntry(text: string, place: EntryPlace): TimeEntry {
  const mission = MISSION.exec(text.trim());
  if (mission !== null) return readMissionTime(mission[1] ?? '', place);
  const { scale, rest } = scaleOf(text.trim());
  const onAxis = scale === null ? (place.clock?.parse(rest) ?? null) : null;
  if (onAxis !== null && isInside(place, onAxis)) return { ok: true, tS: onAxis, note: '' };
  const asSession =
    scale === null && place.clock?.axis.kind !== 'utc' ? parseSessionTime(rest) : null;
  if (asSession !== null && isInside(place, asSession))
    return { ok: true, tS: asSession, note: '' };
  const onClock = clockTimes(rest, scale ?? 'UTC', place);
  const inside = onClock.find((tS) => isInside(place, tS));
  if (inside !== undefined) {
    const isSaid = scale !== null || DATED.test(rest);
    return {
      ok: true,
      tS: inside,
      note: isSaid ? '' : `read as UTC: ${formatSessionTime(inside)} of the session`,
    };
  }
  if (asSession === null && onClock.length === 0) return notATime(place);
  return outside(place);
}

function readMissionTime(text: string, place: EntryPlace): TimeEntry {
  const { missionZeroTaiNs = null } = place;
  if (missionZeroTaiNs === null)
    return { ok: false, problem: 'The session declares no zero of mission time.' };
  const read = parseSessionTime(text);
  if (read === null) return notATime(place);
  const tS = read + Number(BigInt(missionZeroTaiNs) - BigInt(place.zeroTaiNs)) / 1e9;
  return isInside(place, tS) ? { ok: true, tS, note: '' } : outside(place);
}

/** What may be typed, as it stands beside a field. */
export function typedTimeHint({ missionZeroTaiNs = null }: EntryPlace): string {
  return `session time, or 09:30:44 UTC${missionZeroTaiNs === null ? '' : ', or 01:09:30 MET'}`;
}

function notATime({ missionZeroTaiNs = null }: EntryPlace): TimeEntry {
  const mission = missionZeroTaiNs === null ? '' : MISSION_FORM;
  return { ok: false, problem: `Not a time: ${FORMS}${mission}.` };
}

function outside(place: EntryPlace): TimeEntry {
  const { fromS, toS } = place.session;
  const ends = [fromS, toS].map((tS) => utcClock(place, tS)).join(' to ');
  return {
    ok: false,
    problem: `Outside the session, which lasts from ${formatStretch(fromS, toS)}, ${ends} UTC.`,
  };
}

/** A second of rounding at the ends is let through: what the axis shows there may be typed. */
function isInside({ session }: EntryPlace, tS: number): boolean {
  return tS >= session.fromS - 0.05 && tS <= session.toS + 0.05;
}

function scaleOf(text: string): Readonly<{ scale: TimeScale | null; rest: string }> {
  const marked = /^(.*?)\s*\b(UTC|TAI|GPS|TT)$/i.exec(text) ?? /^(.*\d)(Z)$/i.exec(text);
  if (marked === null) return { scale: null, rest: text };
  const name = (marked[2] ?? '').toUpperCase();
  const scale = (['TAI', 'GPS', 'TT'] as const).find((each) => each === name) ?? 'UTC';
  return { scale, rest: (marked[1] ?? '').trim() };
}

/** Session times that a clock time may mean: one with a date, else that of the days about the zero. */
function clockTimes(text: string, scale: TimeScale, place: EntryPlace): readonly number[] {
  const zero = BigInt(place.zeroTaiNs);
  const toSession = (stamp: string): readonly number[] => {
    const instant = parseInstant(scale === 'UTC' ? `${stamp}Z` : stamp, scale);
    return instant === null ? [] : [Number(instant.taiNs - zero) / 1e9];
  };
  if (DATED.test(text)) return toSession(text.replace(',', '.'));
  if (!CLOCK.test(text)) return [];
  const time = `${text.length < 5 || text[1] === ':' ? '0' : ''}${text.replace(',', '.')}`;
  const full = time.length === 5 ? `${time}:00` : time;
  const first = Math.floor(place.session.fromS / 86_400) - 1;
  const days = Math.min(60, Math.ceil(place.session.toS / 86_400) - first + 2);
  return Array.from({ length: days }, (_, index) => {
    const taiNs = zero + BigInt(first + index) * DAY_NS;
    return formatInstant({ taiNs }, scale, { decimals: 0 }).slice(0, 10);
  }).flatMap((day) => toSession(`${day}T${full}`));
}

function utcClock({ zeroTaiNs }: EntryPlace, tS: number): string {
  const instant = { taiNs: BigInt(zeroTaiNs) + BigInt(Math.round(tS * 1e9)) };
  return formatInstant(instant, 'UTC', { decimals: 0 }).slice(11, 19);
}
