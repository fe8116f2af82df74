/** Composes core's stages into one Reconstruction. The only file that knows their order. */

import type { KnownInstant } from '../callouts/clock-words';
import { reviewCallouts } from '../callouts/review-callouts';
import { NORMAL_95 } from '../math/statistics';
import { type ContactTime, findContactTime } from '../phases/contact-time';
import type { Issue } from '../result';
import type { EstimatedQuantity, RuleContext, RuleEvent } from '../rules/rule-context';
import { handTiesOf } from '../session/clock-correction';
import type { SessionInput, TelemetrySource } from '../session/session-input';
import { asFlown } from './as-flown';
import { calloutFigures, type SpokenLog } from './callout-figures';
import { captureFigures } from './capture-figures';
import { contactFigures, LONGEST_UNSEEN_S } from './contact-figures';
import { type CheckedSource, checkSource, stepFaults } from './data-quality';
import { derivedColumns } from './derived-columns';
import { estimateSessionMotion, type SessionMotion } from './estimated-motion';
import { figureOf, type Origin } from './figure-of';
import { inputsText } from './inputs-text';
import { type FlownPhase, findPhases, type LastEdge } from './phase-figures';
import {
  eventsOnSession,
  type PlacedSource,
  placeLog,
  placeTelemetry,
  rowsOnSession,
  sourceReport,
} from './placed-sources';
import { quantityByName } from './quantities';
import type { DerivedColumns, Reconstruction, SessionEvent } from './reconstruction';
import { notesOf } from './reconstruction-notes';
import { ruleFigures } from './rule-figures';
import type { SeenOrigins } from './seen-things';
import { stepResults, stepSpans } from './step-figures';

/**
 * What the numerics cannot know by themselves.
 *
 * `engine` is the version of the numerics (a hash of the core's sources); `sha256` returns the
 * lower-case hexadecimal SHA-256 of a text's UTF-8 bytes.
 */
export type ReconstructOptions = Readonly<{
  engine: string;
  sha256: (text: string) => string;
}>;

export type ReconstructResult = Readonly<{
  reconstruction: Reconstruction;
  derived: DerivedColumns;
}>;

type PlacedTelemetry = Readonly<{
  placed: readonly PlacedSource<TelemetrySource>[];
  checked: readonly CheckedSource[];
}>;

/** Telemetry on session time, looked over. */
function placeAllTelemetry(input: SessionInput): PlacedTelemetry {
  const placed = input.sources.flatMap((source) =>
    source.type === 'telemetry'
      ? [placeTelemetry(source, handTiesOf(input.clockCorrections ?? [], source.file))]
      : [],
  );
  const checked = placed.map((one) =>
    checkSource(one.source, {
      tS: rowsOnSession(one),
      toSession: one.toSession,
      corrections: (input.stretchCorrections ?? []).filter(
        ({ source }) => source === one.source.file,
      ),
    }),
  );
  return { placed, checked };
}

/** Instants that a log's calls can be held against: contact, where the motion itself shows it. */
function knownInstants(
  session: SessionMotion | null,
  contactAxialM: number,
): readonly KnownInstant[] {
  const contact = findContactTime(session?.motion ?? null, contactAxialM, null);
  if (contact === null) return [];
  const sdS = (contact.halfS ?? 0) / NORMAL_95;
  return [{ event: 'contact', timeS: contact.timeS, sdS }];
}

/** Logs on session time, with what was spoken in each. */
function placeAllLogs(input: SessionInput, session: SessionMotion | null): readonly SpokenLog[] {
  const known = knownInstants(session, input.plan?.contactAxialM ?? 0);
  const measure = { track: session?.motion ?? null, known };
  const corrections = input.clockCorrections ?? [];
  return input.sources.flatMap((source): SpokenLog[] => {
    if (source.type !== 'events') return [];
    const ofLog = corrections.filter((one) => one.source === source.file);
    const spoken = reviewCallouts(source.entries, ofLog);
    const byHand = handTiesOf(corrections, source.file);
    return [{ placed: placeLog(source, { spoken, byHand }, measure), spoken }];
  });
}

/** Looks quantities up once each, however many rules name them. */
function rememberQuantities(
  session: SessionMotion | null,
  sources: readonly CheckedSource[],
): RuleContext['quantity'] {
  const known = new Map<string, EstimatedQuantity | null>();
  return (name) => {
    const found = known.get(name);
    if (found !== undefined) return found;
    const quantity = quantityByName(name, session, sources);
    known.set(name, quantity);
    return quantity;
  };
}

/** The last row or event of all sources, s. */
function lastMoment(checked: readonly CheckedSource[], events: readonly SessionEvent[]): number {
  let lastS = Number.NEGATIVE_INFINITY;
  for (const { tS } of checked) lastS = Math.max(lastS, tS[tS.length - 1] ?? lastS);
  for (const event of events) lastS = Math.max(lastS, event.timeS);
  return lastS;
}

/** Placed sources in the order of the session file. */
function inFileOrder(
  input: SessionInput,
  telemetry: PlacedTelemetry,
  logs: readonly SpokenLog[],
): readonly PlacedSource[] {
  const all: readonly PlacedSource[] = [...telemetry.placed, ...logs.map((log) => log.placed)];
  return input.sources.flatMap((source) => all.filter((placed) => placed.source === source));
}

/** Whether the motion at the last row leads to a contact that much later, to a factor of two. */
function leadsToContact({ motion }: SessionMotion, unseenS: number): boolean {
  if (unseenS <= LONGEST_UNSEEN_S) return true;
  const last = motion.tS.length - 1;
  const closingMps = motion.closingMps[last] ?? Number.NaN;
  const goS = (motion.rangeM[last] ?? Number.NaN) / closingMps;
  return unseenS >= goS / 2 && unseenS <= 2 * goS;
}

/** Contact, or the last row where there is none or where the motion seen does not lead to it. */
function lastEdge(session: SessionMotion, contact: ReturnType<typeof findContactTime>): LastEdge {
  const { motion } = session;
  const lastRowS = motion.tS[motion.tS.length - 1] ?? Number.NaN;
  if (contact === null || !leadsToContact(session, contact.timeS - lastRowS)) {
    return { atS: lastRowS, halfS: 0.475 * motion.stepS, method: 'Last row of the telemetry.' };
  }
  return { atS: contact.timeS, halfS: contact.halfS ?? motion.stepS, method: 'Contact.' };
}

/** What the instant of contact rests on: the motion, or the log that names it. */
function contactOrigin(
  contact: ContactTime,
  input: SessionInput,
  session: SessionMotion | null,
  logged: RuleEvent | undefined,
): Origin {
  if (contact.basis !== 'event') return session?.origin ?? { sources: [], channels: [] };
  return {
    sources: input.sources
      .filter(({ file }) => file === logged?.source)
      .map(({ file, sha256 }) => ({ file, sha256 })),
    channels: [],
  };
}

/**
 * Reconstructs an approach from what was recorded: pure, and the same bytes for the same input.
 *
 * @param input the session folder once it has been read; times on each source's own clock
 * @param options version of the numerics and the hash function
 * @returns the reconstruction and the estimated motion at each row, for traces
 */
export function reconstruct(input: SessionInput, options: ReconstructOptions): ReconstructResult {
  const { plan } = input;
  const telemetry = placeAllTelemetry(input);
  const { checked } = telemetry;
  const session = estimateSessionMotion(checked, plan?.holdRateMps ?? null);
  const logs = placeAllLogs(input, session);
  const events = eventsOnSession(logs.map((log) => log.placed));
  const ruleEvents = events.flatMap((entry): RuleEvent[] =>
    entry.event === null ? [] : [{ timeS: entry.timeS, event: entry.event, source: entry.source }],
  );
  const logged = ruleEvents.find((entry) => entry.event === 'contact');
  const contact = findContactTime(
    session?.motion ?? null,
    plan?.contactAxialM ?? 0,
    logged?.timeS ?? null,
  );
  const last = session === null ? null : lastEdge(session, contact);
  const phases: readonly FlownPhase[] =
    session === null || plan === null || last === null ? [] : findPhases(session, plan, last);
  const evaluated =
    session === null || last === null ? null : { fromS: session.motion.tS[0] ?? 0, toS: last.atS };
  const context: RuleContext = {
    motion: session?.motion ?? null,
    evaluated,
    steps: plan === null ? new Map() : stepSpans(plan, phases),
    events: ruleEvents,
    logEntryCount: events.length,
    quantity: rememberQuantities(session, checked),
  };
  const rulesFile =
    input.rulesSha256 === null ? null : { file: 'rules', sha256: input.rulesSha256 };
  const rules = ruleFigures(input.rules, context, phases, {
    telemetry: session?.origin.sources ?? [],
    rules: rulesFile,
  });
  const lastS = lastMoment(checked, events);
  const origin = {
    sources: input.sources.map(({ file, sha256 }) => ({ file, sha256 })),
    channels: [],
  };
  const notes: readonly Issue[] = notesOf(input, session, contact);
  const steps =
    plan === null
      ? []
      : stepResults(
          plan,
          phases,
          { contact: last !== null && contact?.timeS === last.atS, endS: last?.atS ?? 0 },
          session?.origin ?? origin,
        );
  const touched =
    contact === null
      ? null
      : contactFigures(contact, checked, contactOrigin(contact, input, session, logged));
  const origins: SeenOrigins = {
    motion: session?.origin ?? { sources: [], channels: [] },
    files: new Map(origin.sources.map((file) => [file.file, file])),
  };
  const capture = captureFigures({
    contact,
    session,
    sources: checked,
    entries: events,
    plan: plan?.capture ?? null,
    origins,
  });
  const planOrigin: Origin = {
    sources: input.planSha256 === null ? [] : [{ file: 'plan', sha256: input.planSha256 }],
    channels: [],
  };
  const phaseList = phases.map((flown) => flown.phase);
  const sequence = asFlown({
    plan,
    planOrigin,
    steps,
    phases: phaseList,
    contact: touched,
    capture,
    entries: events,
    sources: checked,
    origins,
  });
  return {
    reconstruction: {
      format: 'wakeline/core-reconstruction/1',
      engine: options.engine,
      inputsSha256: options.sha256(inputsText(input, options.engine)),
      session: {
        title: input.title,
        kind: input.kind,
        zeroUtc: input.zeroUtc,
        zeroTaiNs: input.zero.taiNs.toString(),
        durationS: figureOf(origin, {
          value: lastS,
          unit: 's',
          random: null,
          method: 'Last row or event of all sources, on session time.',
          fromS: 0,
          toS: lastS,
        }),
      },
      evaluated,
      plan,
      ruleSet: input.rules,
      sources: inFileOrder(input, telemetry, logs).map(sourceReport),
      phases: phaseList,
      steps,
      rules: rules.results,
      exceedances: rules.exceedances,
      contact: touched,
      capture,
      sequence,
      callouts: calloutFigures(logs, session),
      events,
      dataQuality: [...checked.flatMap((source) => source.faults), ...stepFaults(session)],
      notes,
    },
    derived: derivedColumns(session, plan, input.rules, phases, context),
  };
}
