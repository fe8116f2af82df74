/** The as-flown sequence of events: what was planned, what was flown, and what shows it. */
import type { Figure } from '../figure';
import { leadsAway } from '../phases/match-steps';
import { heardBeside } from '../sequence/log-sightings';
import { entrySighting, type LoggedEntry } from '../sequence/sighting';
import { nameFromId } from '../session/name-from-id';
import type { Plan } from '../session/plan';
import type { CaptureReport, Contact } from './contact-report';
import type { CheckedSource } from './data-quality';
import { figureOf, type Origin } from './figure-of';
import { cutStep, endedBrokenOff, flownAgain, runKind } from './flight-course';
import { RUN_WORDS } from './kind-words';
import { stateItems } from './mode-items';
import type { Phase, SequenceItem, StepResult } from './reconstruction';
import { type SeenOrigins, seenThings } from './seen-things';
import { itemOf } from './sequence-item';
import type { ZoneReport } from './zone-report';

/** So many entries of the logs are listed; the rest is said. */
const MOST_ENTRIES = 2000;

export type AsFlownInputs = Readonly<{
  plan: Plan | null;
  planOrigin: Origin;
  steps: readonly StepResult[];
  phases: readonly Phase[];
  contact: Contact | null;
  capture: CaptureReport | null;
  zones: readonly ZoneReport[];
  /** Whether the evaluated stretch ends at contact; where it does not, later steps are not known. */
  ends: 'at contact' | 'before contact';
  entries: readonly LoggedEntry[];
  sources: readonly CheckedSource[];
  origins: SeenOrigins;
}>;

/**
 * Planned instants: the plan's durations added up from the first step whose start was seen; null for a
 * step that lies before the data or was under way when they begin.
 */
type Timetable = Readonly<{ startS: (index: number) => number | null; from: string }> | null;

function timetable({ plan, steps, phases }: AsFlownInputs): Timetable {
  if (plan === null) return null;
  const cut = cutStep({ plan, phases });
  const before = (index: number): number =>
    plan.steps.slice(0, index).reduce((sum, step) => sum + step.plannedS, 0);
  const first = steps.findIndex(({ startS }, index) => index !== cut && startS?.value != null);
  const flownS = steps[first]?.startS?.value;
  if (flownS == null) return null;
  return {
    startS: (index) =>
      cut !== null && index <= cut ? null : flownS + (before(index) - before(first)),
    from: nameFromId(steps[first]?.id ?? ''),
  };
}

function plannedFigure(origin: Origin, table: Timetable, index: number): Figure | null {
  const atS = table?.startS(index) ?? null;
  if (table === null || atS === null) return null;
  return figureOf(origin, {
    value: atS,
    unit: 's',
    random: null,
    method: `The plan's durations added up from the start of ${table.from} as flown.`,
  });
}

/** An edge that a person set rests on no data; every other is read from the motion. */
function edgeKind({ evidence }: Figure): 'declared' | 'motion' {
  return evidence.people !== undefined && evidence.sources.length === 0 ? 'declared' : 'motion';
}

const DATA_END = 'the data end before contact';
const DATA_END_AWAY = 'the data end before it';
const DATA_BEGIN = 'the data begin after it';
const BROKEN_OFF = 'the approach was broken off';

/** Why a step without a run may have been flown; null where the data cover its place. */
function unknownStep(inputs: AsFlownInputs, index: number): string | null {
  const { steps, phases, plan, ends } = inputs;
  if (steps[index]?.startS !== null) return null;
  const lastFlown = steps.findLastIndex(({ startS }) => startS !== null);
  if (ends === 'before contact' && index > lastFlown && !endedBrokenOff(inputs))
    return leadsAway(plan) ? DATA_END_AWAY : DATA_END;
  return index < steps.findIndex(({ id }) => id === phases[0]?.step) ? DATA_BEGIN : null;
}

function stepItems(inputs: AsFlownInputs, table: Timetable): readonly SequenceItem[] {
  const cut = cutStep(inputs);
  return inputs.steps.map((step, index) => {
    const unknown = unknownStep(inputs, index);
    const isAfter = inputs.steps.findLastIndex(({ startS }) => startS !== null) < index;
    const why = isAfter && endedBrokenOff(inputs) ? BROKEN_OFF : 'not seen in the motion';
    const unseen = step.startS === null && unknown === null ? why : null;
    return itemOf({
      key: `step-${step.id}`,
      kind: 'step',
      what: `${nameFromId(step.id)} starts`,
      plannedS: plannedFigure(inputs.planOrigin, table, index),
      seen:
        step.startS === null
          ? []
          : [
              {
                kind: edgeKind(step.startS),
                timeS: step.startS,
                words: step.pieces > 1 ? `first of ${step.pieces} pieces` : 'run of motion',
                source: null,
                line: null,
              },
            ],
      note: index === cut ? 'under way when the data begin' : unseen,
      unknown,
    });
  });
}

function runName(inputs: AsFlownInputs, index: number): string {
  const phase = inputs.phases[index];
  if (phase?.step != null) return `${nameFromId(phase.step)} resumes, piece ${phase.piece}`;
  const again = flownAgain(inputs, index);
  if (again !== null) return `${nameFromId(again)} again starts`;
  const kind = runKind(inputs, index);
  return kind === 'break-off' ? 'Break-off starts' : `Unplanned ${RUN_WORDS[kind]} starts`;
}

function runItems(inputs: AsFlownInputs): readonly SequenceItem[] {
  const { phases } = inputs;
  return phases.flatMap((phase, index) =>
    phase.step !== null && phase.piece === 1
      ? []
      : [
          itemOf({
            key: `run-${index}`,
            kind: 'run',
            what: runName(inputs, index),
            seen: [
              {
                kind: edgeKind(phase.startS),
                timeS: phase.startS,
                words: 'run of motion',
                source: null,
                line: null,
              },
            ],
          }),
        ],
  );
}

const TOUCH_WORDS = {
  crossing: 'first touch',
  extrapolated: 'first touch, carried on to it',
  declared: 'first touch as declared',
} as const;

function contactItems(inputs: AsFlownInputs, table: Timetable): readonly SequenceItem[] {
  const { contact, capture, plan } = inputs;
  const last = plan?.steps.at(-1);
  const planned =
    plan === null || last?.kind !== 'move' || leadsAway(plan)
      ? null
      : plannedFigure(inputs.planOrigin, table, plan.steps.length);
  if (contact === null && planned === null) return [];
  const touch =
    contact === null || contact.basis === 'event'
      ? []
      : [
          {
            kind: contact.basis === 'declared' ? ('declared' as const) : ('motion' as const),
            timeS: contact.timeS,
            words: TOUCH_WORDS[contact.basis],
            source: null,
            line: null,
          },
        ];
  const isBrokenOff = contact === null && endedBrokenOff(inputs);
  const isUnknown = contact === null && inputs.ends === 'before contact' && !isBrokenOff;
  return [
    itemOf({
      key: 'contact',
      kind: 'contact',
      what: 'Contact',
      plannedS: planned,
      seen: [...touch, ...(capture?.reports ?? [])],
      note: isBrokenOff ? BROKEN_OFF : null,
      unknown: isUnknown ? DATA_END : null,
    }),
  ];
}

function captureItems({ capture, contact, planOrigin }: AsFlownInputs): readonly SequenceItem[] {
  const touchS = contact?.timeS.value ?? null;
  return (capture?.stages ?? []).flatMap((stage) => {
    if (stage.seen.length === 0 && stage.plannedS === null) return [];
    const planned =
      touchS === null || stage.plannedS === null
        ? null
        : figureOf(planOrigin, {
            value: touchS + stage.plannedS,
            unit: 's',
            random: null,
            method: `Planned ${stage.plannedS} s after first touch, from first touch as flown.`,
          });
    return [
      itemOf({
        key: `capture-${stage.stage}`,
        kind: 'capture',
        what: nameFromId(stage.stage),
        plannedS: planned,
        seen: stage.seen,
        note: stage.outOfOrder,
        unknown: stage.seen.length === 0 ? (stage.notKnown ?? null) : null,
      }),
    ];
  });
}

/** Entries into zones and exits from them; one inside which the data begin or end has no such moment. */
function zoneItems({ zones }: AsFlownInputs): readonly SequenceItem[] {
  return zones.flatMap(({ id, title, passes }) =>
    passes.flatMap(({ enterS, leaveS }, index) =>
      [
        { act: 'Enters', timeS: enterS },
        { act: 'Leaves', timeS: leaveS },
      ].flatMap(({ act, timeS }) =>
        timeS === null
          ? []
          : [
              itemOf({
                key: `zone-${id}-${act.toLowerCase()}-${index + 1}`,
                kind: 'zone',
                what: `${act} ${title}`,
                seen: [
                  { kind: 'motion', timeS, words: 'boundary crossed', source: null, line: null },
                ],
              }),
            ],
      ),
    ),
  );
}

/** Lines of logs that stand in a row of their own already. */
function usedLines({ capture }: AsFlownInputs): ReadonlySet<string> {
  const seen = [
    ...(capture?.reports ?? []),
    ...(capture?.stages ?? []).flatMap((stage) => stage.seen),
  ];
  return new Set(seen.map(({ source, line }) => `${source}\n${line}`));
}

function eventItems(inputs: AsFlownInputs): readonly SequenceItem[] {
  const used = usedLines(inputs);
  const heard = heardBeside(inputs.entries);
  const own = inputs.entries.filter(
    (entry) => entry.event !== null && !used.has(`${entry.source}\n${entry.line}`),
  );
  const items = own.slice(0, MOST_ENTRIES).map((entry, index) => {
    const voice = heard.get(entry);
    const sightings = [entry, ...(voice === undefined ? [] : [voice])].map(entrySighting);
    return itemOf({
      key: `event-${index}`,
      kind: 'event',
      what: nameFromId(entry.event ?? ''),
      seen: seenThings(sightings, inputs.origins),
    });
  });
  if (own.length <= MOST_ENTRIES) return items;
  const note = `${own.length - MOST_ENTRIES} more entries with an event stand in the logs`;
  return items.map((item, index) => (index === items.length - 1 ? { ...item, note } : item));
}

/** Where a thing stands in the sequence, s; what lies before the data comes first. */
export function sequencePlaceS(item: SequenceItem): number {
  if (item.notKnown === DATA_BEGIN) return Number.NEGATIVE_INFINITY;
  return item.seen[0]?.timeS.value ?? item.plannedS?.value ?? Number.POSITIVE_INFINITY;
}

/**
 * Everything that happened, in the order flown; what was not seen stands where it was planned.
 *
 * @returns one row a thing, with all evidence of it, best first
 */
export function asFlown(inputs: AsFlownInputs): readonly SequenceItem[] {
  const table = timetable(inputs);
  return [
    ...stepItems(inputs, table),
    ...runItems(inputs),
    ...contactItems(inputs, table),
    ...captureItems(inputs),
    ...zoneItems(inputs),
    ...eventItems(inputs),
    ...stateItems(inputs),
  ].sort((a, b) => sequencePlaceS(a) - sequencePlaceS(b));
}
