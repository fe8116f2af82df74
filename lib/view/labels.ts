/** Words for what the core names by key: one place, so that every screen says the same. */
import type {
  Contact,
  FaultKind,
  Motion,
  Phase,
  ReasonCode,
  Verdict,
} from '../core/reconstruction/reconstruction';

/** `hold-100` becomes `Hold 100`: ids of steps and rules are the authors' own words. */
export function nameFromId(id: string): string {
  const words = id.replace(/[-_]+/g, ' ').trim();
  return words === '' ? id : words.charAt(0).toUpperCase() + words.slice(1);
}

const MOTION_NAMES: Readonly<Record<Motion, string>> = {
  hold: 'Hold',
  closing: 'Closing',
  opening: 'Opening',
  crossing: 'Crossing',
};

export function motionName(motion: Motion): string {
  return MOTION_NAMES[motion];
}

/** What a run is called: its step and piece, or that nobody planned it. */
export function phaseName(phase: Pick<Phase, 'step' | 'piece' | 'motion'>, pieces = 1): string {
  if (phase.step === null) return `Unplanned ${MOTION_NAMES[phase.motion].toLowerCase()}`;
  const name = nameFromId(phase.step);
  return pieces > 1 && phase.piece !== null ? `${name}, piece ${phase.piece} of ${pieces}` : name;
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

const CONDITIONS: Readonly<Record<string, string>> = {
  closing_rate: 'Closing rate',
  lateral_offset: 'Lateral offset',
  lateral_rate: 'Lateral rate',
  attitude_error_pitch_yaw: 'Pitch and yaw error together',
  attitude_error_roll: 'Roll error',
  body_rate_pitch_yaw: 'Pitch and yaw rate together',
  body_rate_roll: 'Roll rate',
};

export function conditionName(key: string): string {
  return CONDITIONS[key] ?? nameFromId(key);
}

const BASES: Readonly<Record<Contact['basis'], string>> = {
  crossing: 'the axial distance was measured down to contact',
  extrapolated: 'the data end just before it; the last axial rate was carried on',
  event: 'taken from the logged event, because no measured distance reaches it',
};

export function basisText(basis: Contact['basis']): string {
  return BASES[basis];
}

const FAULTS: Readonly<Record<FaultKind, string>> = {
  gap: 'gap',
  frozen: 'frozen',
  spike: 'spike',
  step: 'jump',
  duplicate: 'repeated stamp',
  out_of_order: 'stamp out of order',
  held: 'held values',
};

export function faultName(kind: FaultKind): string {
  return FAULTS[kind];
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
