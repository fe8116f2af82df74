/** Where an event is written in a log, and where it is heard. */
import { findEventCalls } from '../callouts/event-calls';
import { entryKind, entrySighting, type LoggedEntry, type Sighting } from './sighting';

/** A spoken line belongs to a written entry of the same words this near, s. Our own choice. */
const SAME_WORDS_WITHIN_S = 10;

function plain(text: string | null): string {
  return (text ?? '')
    .toLowerCase()
    .replace(/^[\p{L}\d .-]{1,24}:\s*/u, '')
    .replace(/[^\p{L}\d]+/gu, ' ')
    .trim();
}

/** Spoken lines that say what written entries say, by the written entry. */
export function heardBeside(
  entries: readonly LoggedEntry[],
): ReadonlyMap<LoggedEntry, LoggedEntry> {
  const spoken = new Map<string, LoggedEntry[]>();
  for (const entry of entries) {
    const words = plain(entry.text);
    if (entryKind(entry) !== 'voice' || words === '') continue;
    const before = spoken.get(words);
    if (before === undefined) spoken.set(words, [entry]);
    else before.push(entry);
  }
  const beside = new Map<LoggedEntry, LoggedEntry>();
  for (const entry of entries) {
    if (entryKind(entry) !== 'written') continue;
    const near = (spoken.get(plain(entry.text)) ?? [])
      .filter(({ timeS }) => Math.abs(timeS - entry.timeS) <= SAME_WORDS_WITHIN_S)
      .sort((a, b) => Math.abs(a.timeS - entry.timeS) - Math.abs(b.timeS - entry.timeS))[0];
    if (near !== undefined) beside.set(entry, near);
  }
  return beside;
}

/** Calls that are told by their words alone, by the event they call. */
function calledEntry(event: string, entries: readonly LoggedEntry[]): LoggedEntry | undefined {
  const spoken = entries.filter((entry) => entryKind(entry) === 'voice');
  const call = findEventCalls(
    spoken.map((entry, index) => ({
      sourceS: entry.timeS,
      sourceEndS: null,
      event: null,
      text: entry.text,
      speaker: entry.speaker,
      line: index,
    })),
  ).find((one) => one.event === event);
  return call === undefined ? undefined : spoken[call.line];
}

/**
 * The first written entry of an event and the first words that call it.
 *
 * Words that call it are those of the written entry itself, said near it, or a plain call
 * (`Contact.`, `Hard capture.`). They are shown beside; words never decide a rule.
 *
 * @param entries of all logs, by time
 * @param event name in the `event` column
 * @returns none, one or two
 */
export function logSightings(entries: readonly LoggedEntry[], event: string): readonly Sighting[] {
  const written = entries.find((entry) => entry.event === event);
  const heard =
    (written === undefined ? undefined : heardBeside(entries).get(written)) ??
    calledEntry(event, entries);
  return [written, heard].flatMap((entry) => (entry === undefined ? [] : [entrySighting(entry)]));
}
