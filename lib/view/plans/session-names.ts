/** Names of sessions by which those of one title can be told apart. */
import { dayOfZero, stampText } from '../format-date';

/** A session as a register knows it. */
export type NamedSession = Readonly<{
  id: string;
  title: string;
  /** Its zero, integer TAI nanoseconds as text. */
  zeroTaiNs: string;
  /** When it was made here. */
  createdAtIso: string;
}>;

/** Each way of writing a name, from the shortest; the last tells any two apart. */
const WAYS: readonly ((session: NamedSession) => string)[] = [
  ({ title }) => title,
  ({ title, zeroTaiNs }) => `${title}, ${dayOfZero(zeroTaiNs)}`,
  ({ title, createdAtIso }) => `${title}, imported ${stampText(createdAtIso)}`,
  ({ title, id }) => `${title}, ${id}`,
];

/**
 * The name of each session by its id: the title alone where no other has it, else with the day of the
 * flight, else with when it was imported, else with its id, whichever first tells it from all others.
 */
export function sessionNames(sessions: readonly NamedSession[]): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  let left = [...new Map(sessions.map((session) => [session.id, session])).values()];
  for (const write of WAYS) {
    const counts = new Map<string, number>();
    for (const session of left) counts.set(write(session), (counts.get(write(session)) ?? 0) + 1);
    const alike = left.filter((session) => (counts.get(write(session)) ?? 0) > 1);
    for (const session of left) if (!alike.includes(session)) names.set(session.id, write(session));
    left = alike;
  }
  return names;
}
