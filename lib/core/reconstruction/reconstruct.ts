import type { ContactTime } from '../phases/contact-time';
import type { Issue } from '../result';
import type { RuleEvent } from '../rules/rule-context';
import type { Plan } from '../session/plan';
import type { SessionInput } from '../session/session-input';
import { absenceNotes } from './absence-notes';
import { approachFigures } from './approach-figures';
import { asFlown } from './as-flown';
import { calloutFigures, type SpokenLog } from './callout-figures';
import { captureFigures } from './capture-figures';
import { commandedPhases } from './commanded-phases';
import { compareSession } from './compare-runs';
import type { CompareTracks } from './compare-tracks';
import { contactFigures } from './contact-figures';
import { courseNotes } from './course-notes';
import type { CheckedSource } from './data-quality';
import { derivedColumns } from './derived-columns';
import { dispositionResults } from './disposition-results';
import type { SessionMotion } from './estimated-motion';
import { figureOf, type Origin, withPeople } from './figure-of';
import { handlingReport } from './handling-results';
import { inputsText } from './inputs-text';
import { stepFaults } from './joined-source';
import { manualStretches } from './manual-stretches';
import { navigationFigures } from './navigation-figures';
import type { PairDifferences } from './navigation-report';
import { phaseEditNotes } from './phase-edit-notes';
import { phaseEditReport } from './phase-edit-report';
import type { FlownPhase } from './phase-figures';
import { type PlacedSource, sourceReport } from './placed-sources';
import type { DerivedColumns, Reconstruction, SessionEvent } from './reconstruction';
import { notesOf } from './reconstruction-notes';
import { ruleFigures } from './rule-figures';
import type { SeenOrigins } from './seen-things';
import { type PlacedTelemetry, sessionContext } from './session-context';
import { noteSettling } from './settling-notes';
import { stepResults } from './step-figures';
import { declaredBeside } from './touch';
import { zoneFigures } from './zone-figures';

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
  /** Flight and runs to be compared again in another way; null without runs. */
  tracks: CompareTracks | null;
  /** Between each other range and the solution's, in the order of the report's pairs. */
  differences: readonly PairDifferences[];
}>;

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

/** What the instant of contact rests on: the motion, or the log that names it. */
function contactOrigin(
  contact: ContactTime,
  input: SessionInput,
  session: SessionMotion | null,
  logged: RuleEvent | undefined,
): Origin {
  if (contact.basis === 'declared') return { sources: [], channels: [] };
  if (contact.basis !== 'event') return session?.origin ?? { sources: [], channels: [] };
  return {
    sources: input.sources
      .filter(({ file }) => file === logged?.source)
      .map(({ file, sha256 }) => ({ file, sha256 })),
    channels: [],
  };
}

/** What people set of a step that was flown: sentences, none where nobody did. */
function peopleOfStep(
  plan: Plan | null,
  phases: readonly FlownPhase[],
): (id: string) => readonly string[] {
  const indexOf = (id: string) => plan?.steps.findIndex((step) => step.id === id) ?? -1;
  return (id) =>
    phases.flatMap(({ match, people }) => (match.stepIndex === indexOf(id) ? people : []));
}

/** What people set by step, and of contact under `contact`; only where they set something. */
function setOfSteps(
  plan: Plan | null,
  phases: readonly FlownPhase[],
  contact: readonly string[],
): Readonly<Record<string, readonly string[]>> {
  const ofStep = peopleOfStep(plan, phases);
  const steps = (plan?.steps ?? []).map(({ id }) => [`step:${id}`, ofStep(id)] as const);
  const all = [...steps, ['contact', contact] as const];
  return Object.fromEntries(all.filter(([, people]) => people.length > 0));
}

/** What states the plan and the rules; null without one. */
function statedIn({ planSha256, rulesSha256 }: SessionInput) {
  return {
    planFile: planSha256 === null ? null : { file: 'plan', sha256: planSha256 },
    rulesFile: rulesSha256 === null ? null : { file: 'rules', sha256: rulesSha256 },
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
  const built = sessionContext(input);
  const { telemetry, session, logs, events, logged, contact, last, phases, context } = built;
  const { touch } = built;
  const { checked } = telemetry;
  const phaseList = phases.map((flown) => flown.phase);
  const { planFile, rulesFile } = statedIn(input);
  const rules = ruleFigures(input.rules, context, phases, {
    telemetry: session?.origin.sources ?? [],
    rules: rulesFile,
    motion: session?.origin ?? null,
    people: { step: peopleOfStep(plan, phases), contact: last?.people ?? [] },
  });
  const lastS = lastMoment(checked, events);
  const origin = {
    sources: input.sources.map(({ file, sha256 }) => ({ file, sha256 })),
    channels: [],
  };
  const placedLogs = logs.map(({ placed }) => placed);
  const judged =
    session === null || context.evaluated === null
      ? null
      : navigationFigures(session, checked, context.evaluated);
  const navigation = judged?.report ?? null;
  const edits = phaseEditReport({
    edits: input.phaseEdits ?? [],
    plan,
    found: built.found,
    touch,
    origin: session?.origin ?? origin,
  });
  const notes: readonly Issue[] = [
    ...notesOf(input, session, contact, placedLogs, navigation?.turning ?? [], checked),
    ...absenceNotes(input.rules, rules.results, context),
    ...(session === null || plan === null ? [] : courseNotes(plan, phaseList, session.motion)),
    ...phaseEditNotes(edits),
  ];
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
      : {
          ...contactFigures(
            contact,
            checked,
            session,
            withPeople(contactOrigin(contact, input, session, logged), touch.people),
          ),
          ...declaredBeside(touch, session?.origin ?? origin),
        };
  const origins: SeenOrigins = {
    motion: withPeople(session?.origin ?? { sources: [], channels: [] }, touch.people),
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
  const approach =
    session === null || context.evaluated === null
      ? null
      : approachFigures({
          session,
          plan,
          rules: input.rules,
          rulesFile,
          phases,
          contactS: contact?.timeS ?? null,
          contactPeople: touch.people,
          span: context.evaluated,
        });
  const commanded = commandedPhases(
    checked,
    phases.map(({ run }) => run),
    session?.origin ?? origin,
  );
  const zones = plan?.zones === undefined ? undefined : zoneFigures(plan.zones, session);
  const sequence = asFlown({
    plan,
    planOrigin: { sources: planFile === null ? [] : [planFile], channels: [] },
    steps,
    phases: phaseList,
    contact: touched,
    capture,
    zones: zones ?? [],
    ends: contact !== null && contact.timeS === last?.atS ? 'at contact' : 'before contact',
    entries: events,
    sources: checked,
    origins,
  });
  const compared = compareSession(input, session, checked, {
    spans: context.steps,
    steps,
    contactS: contact?.timeS ?? null,
    people: setOfSteps(plan, phases, touch.people),
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
        ...(input.missionZero === undefined
          ? {}
          : { missionZeroTaiNs: input.missionZero.taiNs.toString() }),
        durationS: figureOf(origin, {
          value: lastS,
          unit: 's',
          random: null,
          method: 'Last row or event of all sources, on session time.',
          fromS: 0,
          toS: lastS,
        }),
      },
      evaluated: context.evaluated,
      plan,
      ruleSet: input.rules,
      ...(planFile === null ? {} : { planFile }),
      ...(rulesFile === null ? {} : { rulesFile }),
      sources: inFileOrder(input, telemetry, logs).map(sourceReport),
      phases: phaseList,
      ...(commanded.length === 0 ? {} : { commanded }),
      steps,
      rules: noteSettling(rules.results, rules.exceedances, navigation),
      dispositions: dispositionResults(input.ruleDispositions ?? [], input.rules, events),
      exceedances: rules.exceedances,
      contact: touched,
      capture,
      ...(zones === undefined ? {} : { zones }),
      sequence,
      approach,
      navigation,
      handling: {
        ...handlingReport(input.handlingTasks ?? [], input.handlingRatings ?? [], {
          session,
          sources: checked,
          simulated: compared?.simulated ?? null,
        }),
        manual: manualStretches(checked, events),
      },
      comparison: compared?.comparison ?? null,
      callouts: calloutFigures(logs, session),
      ...(edits === undefined ? {} : { phaseEdits: edits }),
      events,
      dataQuality: [...checked.flatMap((source) => source.faults), ...stepFaults(session)],
      notes,
    },
    derived: derivedColumns(session, plan, input.rules, phases, context),
    tracks: compared?.tracks ?? null,
    differences: judged?.differences ?? [],
  };
}
