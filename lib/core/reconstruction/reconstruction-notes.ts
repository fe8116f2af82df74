/** What was not computed, and what the data cannot say, in sentences. */
import type { ContactTime } from '../phases/contact-time';
import { leadsAway } from '../phases/match-steps';
import type { Issue } from '../result';
import type { SessionInput, TelemetrySource } from '../session/session-input';
import { sessionTimeText } from '../time/session-time-text';
import type { CheckedSource } from './data-quality';
import { measuresRate, type SessionMotion } from './estimated-motion';
import { BESIDE_S } from './joined-source';
import { logEndNotes } from './log-end-notes';
import type { TurningAxes } from './navigation-report';
import type { PlacedSource } from './placed-sources';
import { referenceNotes } from './reference-notes';
import { isElsewhere } from './source-reference';
import { contradictionText } from './spoken-contradiction';

function note(code: string, message: string, file?: string): Issue {
  return { code, severity: 'note', message, ...(file === undefined ? {} : { file }) };
}

/** Logs whose spoken ranges contradict their clock or the telemetry; the gravest, so it comes first. */
function contradictions(logs: readonly PlacedSource[]): readonly Issue[] {
  return logs.flatMap(({ source: { file }, contradiction }): Issue[] =>
    contradiction === null
      ? []
      : [
          {
            code: `spoken-against-${contradiction.kind}`,
            severity: 'warning',
            message: contradictionText(contradiction, file),
            file,
          },
        ],
  );
}

/** Where the components of the position stand in sources of their own; empty where they do not. */
function apartText(telemetry: readonly TelemetrySource[]): string {
  const found = ['position.x', 'position.y', 'position.z'].map((as) => {
    const source = telemetry.find(({ channels }) => channels.some((each) => each.as === as));
    return source === undefined ? null : `${as} in ${source.file}`;
  });
  return found.includes(null)
    ? ''
    : ` Its components stand in different sources: ${found.join(', ')}; files listed under one source (files) are joined by their times.`;
}

/** Inputs without which nothing of a kind can be computed. */
function missing(input: SessionInput, telemetry: readonly TelemetrySource[], hasMotion: boolean) {
  const notes: Issue[] = [];
  if (telemetry.length === 0) {
    const message = 'No telemetry: phases, rates and conditions at contact are not computed.';
    notes.push(note('no-telemetry', message));
  } else if (!hasMotion) {
    const message = `No source gives position in three components or a range: phases and rates are not computed.${apartText(telemetry)}`;
    notes.push(note('no-motion', message));
  }
  if (input.plan === null)
    notes.push(note('no-plan', 'No plan: phases, steps and deviations are not computed.'));
  if (input.rules.length === 0) notes.push(note('no-rules', 'No rules: none were evaluated.'));
  return notes;
}

/** A position that the motion is not estimated from; a warning where it was measured at times of which there is no motion. */
function ofOther(other: CheckedSource, { parts }: SessionMotion): readonly Issue[] {
  const { file } = other.source;
  const hasPosition = other.source.channels.some(({ as }) => as === 'position.x' || as === 'range');
  if (parts.includes(other) || !hasPosition) return [];
  const used = parts.map((part) => part.source.file).join(' and ');
  const unused = `Position in ${file} is not used: the motion is estimated from ${used} alone`;
  const [fromS, toS] = [other.tS[0] ?? Number.NaN, other.tS.at(-1) ?? Number.NaN];
  const [usedFromS, usedToS] = [
    parts[0]?.tS[0] ?? Number.NaN,
    parts.at(-1)?.tS.at(-1) ?? Number.NaN,
  ];
  if (fromS >= usedFromS - BESIDE_S && toS <= usedToS + BESIDE_S)
    return [note('second-motion-source', `${unused}.`, file)];
  const span = (a: number, b: number): string =>
    `${sessionTimeText(a, 1)} to ${sessionTimeText(b, 1)}`;
  const message = `${unused}, which covers ${span(usedFromS, usedToS)}. ${file} covers ${span(fromS, toS)}: outside the first no phase, step or rule is computed. A source goes on with another where both measure the same quantities between the same points.`;
  return [{ code: 'motion-of-one-source', severity: 'warning', message, file }];
}

/** Which source the motion is estimated from when; nothing where it is one. */
function ofParts({ motion, parts, joins }: SessionMotion): readonly Issue[] {
  const [first] = parts;
  if (first === undefined || joins.length === 0) return [];
  const longestStepS = Math.max(...parts.map((part) => part.longestStepS));
  const later = joins.map(({ beforeS, atS }, index) => {
    const silent =
      atS - beforeS > longestStepS ? ` (nothing for ${(atS - beforeS).toFixed(1)} s before)` : '';
    return `from ${sessionTimeText(atS, 1)} on from ${parts[index + 1]?.source.file}${silent}`;
  });
  const givesUpRates = motion.rateIsDerived && parts.some(measuresRate);
  const alike = givesUpRates
    ? 'the same places one after another, not all of them rates, so these are derived from position'
    : 'the same quantities one after another';
  const message = `The motion is estimated from ${first.source.file}, and ${later.join(', ')}: the sources measure ${alike}. Where the position steps between them, what lies before is moved onto what comes after, but for what the vehicle may have flown unseen.`;
  return [note('motion-joined', message)];
}

/** What the motion rests on, and what of it the source leaves open. */
function ofMotion(
  session: SessionMotion,
  checked: readonly CheckedSource[],
  turning: readonly TurningAxes[],
): readonly Issue[] {
  const { motion, source } = session;
  const { file, declared } = source.source;
  const notes: Issue[] = [];
  if (motion.basis === 'position-only' || motion.basis === 'range-only') {
    const message =
      'Velocity is not measured throughout: rates are derived from position, and short changes of rate are flattened.';
    notes.push(note('rate-derived', message, file));
  }
  if (declared.accuracy === null) {
    const message =
      'The source states no accuracy: intervals hold the scatter of the data, not a bias they share.';
    notes.push(note('accuracy-not-stated', message, file));
  }
  notes.push(...referenceNotes(session, turning));
  notes.push(...ofParts(session), ...checked.flatMap((other) => ofOther(other, session)));
  return notes;
}

/** Why there is no contact, or what lies between the last row and it. */
function ofContact(
  { plan }: SessionInput,
  session: SessionMotion | null,
  contact: ContactTime | null,
): readonly Issue[] {
  if (session === null) return [];
  if (contact === null) {
    if (leadsAway(plan)) return [];
    const message = isElsewhere(session.source.reference)
      ? 'No contact: the position is not of the ports, and no log names it.'
      : 'No contact, so no conditions at contact: the data do not reach the plane of first touch, and no log names it.';
    return [note('no-contact', message)];
  }
  const unseenS = contact.timeS - (session.motion.tS.at(-1) ?? Number.NaN);
  if (!(unseenS > 2)) return [];
  const message = `The telemetry ends ${unseenS.toFixed(1)} s before contact: what the vehicle did between is not known.`;
  return [note('data-end-before-contact', message)];
}

function ofAttitude(telemetry: readonly TelemetrySource[]): readonly Issue[] {
  const isAgainstCommand = telemetry.some(({ channels }) =>
    channels.some(({ as }) => as.startsWith('attitude_error.')),
  );
  const message = 'Attitude error is against command; the attitude of the target is not known.';
  return isAgainstCommand ? [note('attitude-against-command', message)] : [];
}

/**
 * Everything left out, one note each, in a fixed order.
 *
 * @param input the session
 * @param session its motion; `null` where none could be estimated
 * @param contact the instant of contact; `null` for none
 * @param logs the logs on session time
 * @param turning velocities found in other axes than their position
 * @param checked all telemetry on session time
 */
export function notesOf(
  input: SessionInput,
  session: SessionMotion | null,
  contact: ContactTime | null,
  logs: readonly PlacedSource[],
  turning: readonly TurningAxes[],
  checked: readonly CheckedSource[],
): readonly Issue[] {
  const telemetry = input.sources.filter((source) => source.type === 'telemetry');
  const end =
    contact === null
      ? { timeS: session?.motion.tS.at(-1) ?? Number.NaN, what: 'the telemetry ends' as const }
      : { timeS: contact.timeS, what: 'contact' as const };
  return [
    ...input.notComputed,
    ...contradictions(logs),
    ...missing(input, telemetry, session !== null),
    ...(session === null ? [] : ofMotion(session, checked, turning)),
    ...ofContact(input, session, contact),
    ...logEndNotes(logs, end),
    ...ofAttitude(telemetry),
  ];
}
