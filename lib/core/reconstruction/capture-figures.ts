/** Capture: first touch and the report of it, and each stage after it against the plan. */
import type { Figure } from '../figure';
import type { ContactTime } from '../phases/contact-time';
import { flagSighting, largestCount } from '../sequence/discretes';
import { logSightings } from '../sequence/log-sightings';
import { findRetraction, type RingRetraction } from '../sequence/ring-retraction';
import { findSettling, type NotSettled, type Settling } from '../sequence/settling';
import { bestFirst, type LoggedEntry, type Sighting } from '../sequence/sighting';
import { findOutOfOrder } from '../sequence/stage-order';
import { type CapturePlan, type CaptureStage, DEFAULT_CAPTURE } from '../session/capture-plan';
import { nameFromId } from '../session/name-from-id';
import type { CaptureReport, CaptureStageResult } from './contact-report';
import type { CheckedSource } from './data-quality';
import type { SessionMotion } from './estimated-motion';
import { figureOf, withPeople } from './figure-of';
import { discreteColumns, type SeenOrigins, seenThings } from './seen-things';

/** What capture is read from. */
export type CaptureInputs = Readonly<{
  contact: ContactTime | null;
  session: SessionMotion | null;
  sources: readonly CheckedSource[];
  entries: readonly LoggedEntry[];
  plan: CapturePlan | null;
  origins: SeenOrigins;
}>;

const NO_SETTLING: Readonly<Record<NotSettled, string>> = {
  'no-data': 'No telemetry follows first touch.',
  never: 'The speed never stayed under the limit for that long.',
  'under-noise': 'The limit lies under the noise of the rates.',
};

const SETTLING_METHOD =
  'First instant after first touch from which the speed of the relative motion stays under the limit for the stated time; interpolated between rows, the interval is the time it takes through its own noise.';
const RETRACTION_METHOD =
  'Straight line through 10 % and 90 % of the way between the axial distances at rest before and after, carried on to its ends.';

function motionSighting(atS: number, halfS: number, words: string, method: string): Sighting {
  return { kind: 'motion', atS, halfS, words, source: null, line: null, channels: [], method };
}

/** First touch as the motion shows it, or as a person declared it; none where only a log tells of contact. */
export function touchSighting(contact: ContactTime | null): readonly Sighting[] {
  if (contact === null || contact.basis === 'event') return [];
  if (contact.basis === 'declared') {
    const words = 'first touch as a person declared it';
    return [
      { ...motionSighting(contact.timeS, contact.halfS ?? 0, words, words), kind: 'declared' },
    ];
  }
  const words =
    contact.basis === 'crossing'
      ? 'axial distance at the plane of first touch'
      : 'axial distance carried on to the plane of first touch';
  return [motionSighting(contact.timeS, contact.halfS ?? 0, words, words)];
}

/** A flag or log entry of a name: written, heard, and a discrete channel called alike. */
export function namedSightings(
  event: string,
  flag: string,
  { entries, sources }: Pick<CaptureInputs, 'entries' | 'sources'>,
): readonly Sighting[] {
  const flags = discreteColumns(sources, flag).flatMap((column) => flagSighting(column) ?? []);
  return [...flags, ...logSightings(entries, event)];
}

type AfterTouch = Readonly<{
  settling: Settling | NotSettled;
  retraction: RingRetraction | null;
}>;

/** What the motion shows after first touch. */
function motionAfter({ contact, session, plan }: CaptureInputs): AfterTouch {
  if (contact === null || session === null) return { settling: 'no-data', retraction: null };
  const { motion } = session;
  const { settledMps, settledForS } = plan ?? DEFAULT_CAPTURE;
  const lastS = motion.tS[motion.tS.length - 1] ?? Number.NaN;
  const span = { fromS: contact.timeS, limitMps: settledMps, forS: settledForS };
  const settling = findSettling(motion, { ...span, toS: lastS });
  return {
    settling,
    retraction: typeof settling === 'string' ? null : findRetraction(motion, settling.atS),
  };
}

function motionSightings(stage: CaptureStage, { settling, retraction }: AfterTouch) {
  if (stage === 'damping' && typeof settling !== 'string') {
    const { atS, halfS } = settling;
    return [motionSighting(atS, halfS, 'relative motion settled', SETTLING_METHOD)];
  }
  if (stage === 'ring_retraction' && retraction !== null) {
    const { startS, halfS } = retraction;
    return [motionSighting(startS, halfS, 'axial distance starts to fall', RETRACTION_METHOD)];
  }
  return [];
}

/** Stages that the motion alone shows. */
const MOTION_STAGES: readonly CaptureStage[] = ['damping', 'ring_retraction'];

/** A stage that telemetry would have shown, had it gone on to first touch: it is not known. */
function whyNotKnown(
  stage: CaptureStage,
  sightings: readonly Sighting[],
  { settling }: AfterTouch,
): Pick<CaptureStageResult, 'notKnown'> {
  const isBlind = settling === 'no-data' && MOTION_STAGES.includes(stage);
  return isBlind && sightings.length === 0 ? { notKnown: 'no telemetry follows first touch' } : {};
}

function latchesOf(inputs: CaptureInputs, untilS: number): CaptureReport['latches'] {
  const { latches, latchEvent } = inputs.plan ?? DEFAULT_CAPTURE;
  const counted = discreteColumns(inputs.sources, 'latches_closed').flatMap((column) => {
    const found = largestCount(column, untilS);
    return found === null ? [] : [{ ...found, column }];
  })[0];
  if (counted !== undefined) {
    const { source, channel } = counted.column;
    const file = inputs.origins.files.get(source);
    return {
      planned: latches,
      closed: figureOf(
        { sources: file === undefined ? [] : [file], channels: [channel] },
        {
          value: counted.count,
          unit: '1',
          random: null,
          method: 'Largest count the channel shows.',
          fromS: counted.atS,
          toS: untilS,
        },
      ),
      reason: null,
    };
  }
  const logged = inputs.entries.filter(({ event }) => event === latchEvent);
  if (logged.length === 0) {
    return {
      planned: latches,
      closed: null,
      reason: `No channel latches_closed and no event ${latchEvent} counts them.`,
    };
  }
  const files = new Set(logged.map(({ source }) => source));
  return {
    planned: latches,
    closed: figureOf(
      {
        sources: [...files].flatMap((file) => inputs.origins.files.get(file) ?? []),
        channels: [],
      },
      {
        value: logged.length,
        unit: '1',
        random: null,
        method: `Entries of the logs with the event ${latchEvent}.`,
        fromS: logged[0]?.timeS ?? null,
        toS: logged.at(-1)?.timeS ?? null,
      },
    ),
    reason: null,
  };
}

/** One instant minus another, both with their intervals. */
function differenceFigure(
  inputs: CaptureInputs,
  later: Sighting,
  earlier: Readonly<{ atS: number; halfS: number | null }>,
  method: string,
): Figure {
  const file = later.source === null ? undefined : inputs.origins.files.get(later.source);
  const sources = [...inputs.origins.motion.sources, ...(file === undefined ? [] : [file])];
  const half =
    later.halfS === null || earlier.halfS === null ? null : Math.hypot(later.halfS, earlier.halfS);
  const origin = { sources: [...new Set(sources)], channels: later.channels };
  return figureOf(withPeople(origin, inputs.origins.motion.people ?? []), {
    value: later.atS - earlier.atS,
    unit: 's',
    random: half,
    method,
    fromS: Math.min(earlier.atS, later.atS),
    toS: Math.max(earlier.atS, later.atS),
  });
}

function settlingFigures(
  inputs: CaptureInputs,
  settling: Settling | NotSettled,
): CaptureReport['settling'] {
  const { settledMps, settledForS } = inputs.plan ?? DEFAULT_CAPTURE;
  const common = { limitMps: settledMps, forS: settledForS };
  if (typeof settling === 'string') {
    return { ...common, peakMps: null, reason: NO_SETTLING[settling] };
  }
  const { peakMps, peakHalfMps, peakS } = settling;
  return {
    ...common,
    peakMps: figureOf(inputs.origins.motion, {
      value: peakMps,
      unit: 'm/s',
      random: peakHalfMps,
      systematic: inputs.session?.stated.rateMps ?? null,
      method: 'Largest speed of the relative motion after first touch.',
      fromS: peakS,
      toS: peakS,
    }),
    reason: null,
  };
}

function retractionFigures(
  inputs: CaptureInputs,
  retraction: RingRetraction | null,
): CaptureReport['retraction'] {
  if (retraction === null) return null;
  const { startS, endS, halfS, fromM, toM } = retraction;
  const figure = (value: number, unit: string, random: number | null): Figure =>
    figureOf(inputs.origins.motion, {
      value,
      unit,
      random,
      method: RETRACTION_METHOD,
      fromS: startS,
      toS: endS,
    });
  return {
    endS: figure(endS, 's', halfS),
    durationS: figure(endS - startS, 's', Math.SQRT2 * halfS),
    drawnInM: figure(fromM - toM, 'm', null),
  };
}

/**
 * Capture, stage by stage.
 *
 * @returns `null` where there is no contact and no log or channel names a stage
 */
export function captureFigures(inputs: CaptureInputs): CaptureReport | null {
  const { contact, entries, origins } = inputs;
  const plan = inputs.plan ?? DEFAULT_CAPTURE;
  const after = motionAfter(inputs);
  const touch = touchSighting(contact);
  const reports = namedSightings('contact', 'contact', inputs);
  const found = plan.stages.map((one) => ({
    ...one,
    sightings: [
      ...motionSightings(one.stage, after),
      ...namedSightings(one.event, one.stage, inputs),
    ],
  }));
  if (contact === null && found.every(({ sightings }) => sightings.length === 0)) return null;
  const orders = findOutOfOrder([
    { name: 'contact', sightings: [...touch, ...reports] },
    ...found.map(({ stage, sightings }) => ({ name: nameFromId(stage).toLowerCase(), sightings })),
  ]);
  const stages = found.map((one, index): CaptureStageResult => {
    const best = bestFirst(one.sightings)[0];
    const blind = whyNotKnown(one.stage, one.sightings, after);
    const sinceTouch =
      best === undefined || contact === null
        ? null
        : differenceFigure(
            inputs,
            best,
            { atS: contact.timeS, halfS: contact.halfS },
            'Its instant minus that of first touch.',
          );
    return {
      stage: one.stage,
      event: one.event,
      seen: seenThings(one.sightings, origins),
      afterContactS: sinceTouch,
      plannedS: one.afterContactS,
      toleranceS: one.toleranceS,
      differenceS:
        sinceTouch?.value == null || one.afterContactS === null
          ? null
          : {
              ...sinceTouch,
              value: sinceTouch.value - one.afterContactS,
              method: 'Time after first touch as flown minus as planned.',
            },
      outOfOrder: blind.notKnown === undefined ? (orders[index + 1] ?? null) : null,
      ...blind,
    };
  });
  const report = reports.find(({ kind }) => kind !== 'motion');
  const measured = touch[0];
  return {
    reports: seenThings(reports, origins),
    reportDelayS:
      report === undefined || measured === undefined
        ? null
        : differenceFigure(
            inputs,
            bestFirst(reports)[0] ?? report,
            measured,
            contact?.basis === 'declared'
              ? 'Instant of the report minus that of first touch as declared.'
              : 'Instant of the report minus that of first touch as the motion shows it.',
          ),
    stages,
    settling: settlingFigures(inputs, after.settling),
    retraction: retractionFigures(inputs, after.retraction),
    latches: latchesOf(
      inputs,
      Math.max(...entries.map(({ timeS }) => timeS), inputs.session?.motion.tS.at(-1) ?? 0),
    ),
  };
}
