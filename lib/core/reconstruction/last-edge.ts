/** Where the evaluated stretch of a motion ends. */
import type { ContactTime } from '../phases/contact-time';
import { LONGEST_UNSEEN_S } from './contact-figures';
import type { SessionMotion } from './estimated-motion';
import type { LastEdge } from './phase-figures';

/** Whether the motion at the last row leads to a contact that much later, to a factor of two. */
function leadsToContact({ motion }: SessionMotion, unseenS: number): boolean {
  if (unseenS <= LONGEST_UNSEEN_S) return true;
  const last = motion.tS.length - 1;
  const closingMps = motion.closingMps[last] ?? Number.NaN;
  const goS = (motion.rangeM[last] ?? Number.NaN) / closingMps;
  return unseenS >= goS / 2 && unseenS <= 2 * goS;
}

/**
 * Contact, or the last row where there is none or where the motion seen does not lead to it.
 *
 * @param people what people said of contact, where they declared it
 */
export function lastEdge(
  session: SessionMotion,
  contact: ContactTime | null,
  people: readonly string[] = [],
): LastEdge {
  const { motion } = session;
  const lastRowS = motion.tS[motion.tS.length - 1] ?? Number.NaN;
  if (contact === null || !leadsToContact(session, contact.timeS - lastRowS)) {
    return { atS: lastRowS, halfS: 0.475 * motion.stepS, method: 'Last row of the telemetry.' };
  }
  const edge = { atS: contact.timeS, halfS: contact.halfS ?? motion.stepS };
  if (people.length === 0) return { ...edge, method: 'Contact.' };
  return { ...edge, method: people.join(' '), people };
}
