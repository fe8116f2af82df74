/** When a recording ran: its clock from tie points, and how one is typed. */
import { type ClockTerms, toSessionSeconds } from '../../core/clock/clock-terms';
import { resolveClock } from '../../core/clock/resolve-clock';
import { faultOfTies, type RecordingTie } from '../../core/session/recording-words';
import { parseSessionTime } from '../timeline-readout';
import { type EntryPlace, readTimeEntry, type TimeEntry } from '../timeline-time-entry';

export type RecordingTerms = ClockTerms &
  Readonly<{
    /** Why there is no drift, or what it was found from; null where there is nothing to say. */
    reason: string | null;
  }>;

/**
 * Offset and drift of a recording, as those of every source with tie points: one gives the offset, two
 * the drift as well where they lie far enough apart to tell it.
 */
export function recordingTerms(ties: readonly RecordingTie[]): RecordingTerms {
  const { offsetS, driftPpm, reason } = resolveClock({ kind: 'tie-points', points: ties }, []);
  return { offsetS, driftPpm, reason };
}

/** What a recording covers of session time; `toS` is null where its length is not known. */
export function recordingSpan(
  terms: ClockTerms,
  durationS: number | null,
): Readonly<{ fromS: number; toS: number | null }> {
  return {
    fromS: toSessionSeconds(terms, 0),
    toS: durationS === null ? null : toSessionSeconds(terms, durationS),
  };
}

/** A recording may have been started long before the session's first row, or run on after its last. */
const BESIDE_S = 86_400;

/** A moment of the session in any code it knows, also one that lies beside its rows. */
export function readMoment(text: string, place: EntryPlace): TimeEntry {
  const inside = readTimeEntry(text, place);
  if (inside.ok) return inside;
  const { fromS, toS } = place.session;
  const session = { fromS: fromS - BESIDE_S, toS: toS + BESIDE_S };
  const beside = readTimeEntry(text, { ...place, session });
  return beside.ok || inside.problem.startsWith('Not a time') ? beside : inside;
}

/** The fields of the form. The second moment may be left out. */
export type ClockTyped = Readonly<
  Record<'firstAt' | 'firstIs' | 'secondAt' | 'secondIs' | 'reason', string>
>;

export type ReadClock =
  | Readonly<{ ties: readonly RecordingTie[]; notes: readonly string[] }>
  | Readonly<{ fields: Readonly<Record<string, string>> }>;

const AT_FORMS = 'A time of the recording from its start: mm:ss, hh:mm:ss or seconds.';

/** The tie points that were typed, or what is wrong under each field. */
export function readClockTyped(typed: ClockTyped, place: EntryPlace): ReadClock {
  const fields: Record<string, string> = {};
  const notes: string[] = [];
  const tie = (which: 'first' | 'second'): RecordingTie => {
    const at = parseSessionTime(typed[`${which}At`]);
    if (at === null || at < 0) fields[`${which}At`] = AT_FORMS;
    const is = readMoment(typed[`${which}Is`], place);
    if (!is.ok) fields[`${which}Is`] = is.problem;
    else if (is.note !== '') notes.push(is.note);
    return [at ?? 0, is.ok ? is.tS : 0];
  };
  const isSecond = `${typed.secondAt}${typed.secondIs}`.trim() !== '';
  const ties = isSecond ? [tie('first'), tie('second')] : [tie('first')];
  if (Object.keys(fields).length > 0) return { fields };
  const fault = faultOfTies(ties);
  return fault === null ? { ties, notes } : { fields: { secondIs: fault } };
}
