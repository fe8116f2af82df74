/** Words for what the core names by key: one place, so that every screen says the same. */

import type { Contact } from '../core/reconstruction/contact-report';
import { MOTION_WORDS } from '../core/reconstruction/kind-words';
import type { Motion, ReasonCode, Verdict } from '../core/reconstruction/reconstruction';
import { nameFromId } from '../core/session/name-from-id';

/** The kind of motion as the first word of a cell. */
export function motionName(motion: Motion): string {
  return nameFromId(MOTION_WORDS[motion]);
}

const REASONS: Readonly<Record<ReasonCode, string>> = {
  'no-such-channel': 'the channel was not recorded',
  'no-such-event': 'the event is in no log',
  'step-not-flown': 'no motion was matched to its step',
  'no-event-log': 'there is no event log',
  'data-missing': 'the data are missing where it applies',
};

export function reasonText(reason: ReasonCode): string {
  return REASONS[reason];
}

const BASES: Readonly<Record<Contact['basis'], string>> = {
  crossing: 'the axial distance was measured down to contact',
  extrapolated: 'the data end just before it; the last axial rate was carried on',
  declared: 'declared by a person in place of what was computed',
  event: 'taken from the logged event, because no measured distance reaches it',
};

export function basisText(basis: Contact['basis']): string {
  return BASES[basis];
}

/** How a verdict is coloured where it is coloured at all; the word always stands beside it. */
export type Tone = 'inside' | 'beyond' | 'unsure' | 'quiet';

const VERDICT_TONES: Readonly<Record<Verdict, Tone>> = {
  met: 'inside',
  broken: 'beyond',
  undecided: 'unsure',
  'not applicable': 'quiet',
  'not evaluated': 'unsure',
};

export function verdictTone(verdict: Verdict): Tone {
  return VERDICT_TONES[verdict];
}
