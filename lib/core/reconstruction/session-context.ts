/** What everything else is computed from: sources on session time, motion, contact, phases. */
import type { KnownInstant } from '../callouts/clock-words';
import { reviewCallouts } from '../callouts/review-callouts';
import { NORMAL_95 } from '../math/statistics';
import { type ContactTime, findContactTime } from '../phases/contact-time';
import type { EstimatedQuantity, RuleContext, RuleEvent } from '../rules/rule-context';
import { handTiesOf } from '../session/clock-correction';
import type { SessionInput, TelemetrySource } from '../session/session-input';
import type { SpokenLog } from './callout-figures';
import { type CheckedSource, checkSource } from './data-quality';
import { estimateSessionMotion, motionOfPorts, type SessionMotion } from './estimated-motion';
import { lastEdge } from './last-edge';
import { type FlownPhase, type FoundPhases, findPhases, type LastEdge } from './phase-figures';
import {
  eventsOnSession,
  type PlacedSource,
  placeLog,
  placeTelemetry,
  rowsOnSession,
} from './placed-sources';
import { bringToPorts } from './port-sources';
import { quantityByName } from './quantities';
import type { SessionEvent } from './reconstruction';
import { discreteColumns } from './seen-things';
import { stepSpans } from './step-figures';
import { type Touch, touchOf } from './touch';

export type PlacedTelemetry = Readonly<{
  placed: readonly PlacedSource<TelemetrySource>[];
  checked: readonly CheckedSource[];
}>;

/** Telemetry on session time, looked over, then brought to the ports. */
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
  return { placed, checked: bringToPorts(checked) };
}

/** Instants that a log's calls can be held against: contact, where the motion itself shows it. */
function knownInstants(
  session: SessionMotion | null,
  contactAxialM: number,
): readonly KnownInstant[] {
  const contact = findContactTime(motionOfPorts(session), contactAxialM, null);
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

/** From the first to the last entry of the logs that name events. */
function eventLogSpan(events: readonly SessionEvent[]): Pick<RuleContext, 'eventLogs'> {
  const naming = new Set(events.filter(({ event }) => event !== null).map(({ source }) => source));
  const entries = events.filter(({ source }) => naming.has(source));
  const [first, last] = [entries[0], entries.at(-1)];
  if (first === undefined || last === undefined) return {};
  return { eventLogs: { fromS: first.timeS, toS: last.timeS } };
}

/** The stages up to the rules, in their order. */
export type SessionContext = Readonly<{
  telemetry: PlacedTelemetry;
  session: SessionMotion | null;
  logs: readonly SpokenLog[];
  events: readonly SessionEvent[];
  /** First entry with the event contact. */
  logged: RuleEvent | undefined;
  contact: ContactTime | null;
  touch: Touch;
  last: LastEdge | null;
  phases: readonly FlownPhase[];
  /** The runs behind the phases, before and after people's corrections. */
  found: FoundPhases | null;
  context: RuleContext;
}>;

/** Runs the stages from the sources to what rules are evaluated against. */
export function sessionContext(input: SessionInput): SessionContext {
  const { plan } = input;
  const telemetry = placeAllTelemetry(input);
  const { checked } = telemetry;
  const session = estimateSessionMotion(checked, plan);
  const logs = placeAllLogs(input, session);
  const events = eventsOnSession(logs.map((log) => log.placed));
  const ruleEvents = events.flatMap((entry): RuleEvent[] =>
    entry.event === null ? [] : [{ timeS: entry.timeS, event: entry.event, source: entry.source }],
  );
  const logged = ruleEvents.find((entry) => entry.event === 'contact');
  const computed = findContactTime(
    motionOfPorts(session),
    plan?.contactAxialM ?? 0,
    logged?.timeS ?? null,
  );
  const touch = touchOf(input.phaseEdits ?? [], computed, checked);
  const { contact } = touch.result;
  const last = session === null ? null : lastEdge(session, contact, touch.people);
  const found: FoundPhases | null =
    session === null || plan === null || last === null
      ? null
      : findPhases(session, plan, last, input.phaseEdits);
  const phases = found?.phases ?? [];
  const evaluated =
    session === null || last === null ? null : { fromS: session.motion.tS[0] ?? 0, toS: last.atS };
  const context: RuleContext = {
    motion: session?.motion ?? null,
    evaluated,
    steps: plan === null ? new Map() : stepSpans(plan, phases),
    events: ruleEvents,
    logEntryCount: events.length,
    ...eventLogSpan(events),
    quantity: rememberQuantities(session, checked),
    states: (name) => discreteColumns(checked, name)[0] ?? null,
  };
  return {
    telemetry,
    session,
    logs,
    events,
    logged,
    contact,
    touch,
    last,
    phases,
    found,
    context,
  };
}
