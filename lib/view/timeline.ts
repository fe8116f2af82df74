/** What the timeline draws beside the traces: bars, marks and brackets on session time. */

import type { Annotation, Finding } from '../core/findings/finding';
import { flownAgain, runKind } from '../core/reconstruction/flight-course';
import { FAULT_WORDS, RUN_WORDS } from '../core/reconstruction/kind-words';
import type {
  DataFault,
  Motion,
  Phase,
  Reconstruction,
  SessionEvent,
} from '../core/reconstruction/reconstruction';
import { nameOfRun } from '../core/reconstruction/run-name';
import { nameFromId } from '../core/session/name-from-id';
import type { Recording } from '../core/session/recording';
import type { TimeWindow } from './charts/time-window';
import { formatFigure } from './format-figure';
import { spokenDuration } from './format-time';
import type { LogMark } from './log-mark';
import { type FeedBar, feedBars } from './navigation/feed-bars';
import {
  type PlayedRecording,
  playedRecordings,
  silentRecordings,
} from './recordings/played-recordings';
import { rulesByRoom } from './rules-view';
import { type StateLane, stateLanes } from './state-bars';
import { planTraces } from './timeline-plan';
import { runBands } from './timeline-run-bands';
import { type ChannelInfo, type StripCatalogue, stripCatalogue } from './timeline-strips';
import { toldStretch, toldTime } from './told-times';
import { zoneLanes } from './zone-bars';

/**
 * A stretch on a lane. `label` is short, `detail` is the whole sentence for hover and lists, its times
 * left to the clock of the reader (`tellTimes`).
 */
export type LaneBar = Readonly<{
  id: string;
  fromS: number;
  toS: number;
  label: string;
  detail: string;
}>;

/** Beyond a limit, or where a rule about events was broken; `rule` is which of the two. */
export type BeyondBar = LaneBar & Readonly<{ rule: 'limit' | 'events' }>;

export type PhaseBar = LaneBar & Readonly<{ motion: Motion; planned: boolean }>;

export type RemarkBar = LaneBar &
  (
    | Readonly<{ kind: 'finding'; finding: Finding }>
    | Readonly<{ kind: 'annotation'; annotation: Annotation }>
  );

/** Strips and axis that the team has kept under a name, as they stand in an address. */
export type KeptArrangement = Readonly<{
  id: string;
  version: number;
  name: string;
  query: string;
}>;

export type TimelineView = Readonly<{
  sessionId: string;
  /** Another one has other samples behind it: nothing that was read for this one holds. */
  edition: string;
  title: string;
  /** Integer TAI nanoseconds of session time 0, as text. */
  zeroTaiNs: string;
  /** What mission time counts from; null where the session declares none. */
  missionZeroTaiNs: string | null;
  session: TimeWindow;
  contactS: number | null;
  phases: readonly PhaseBar[];
  plan: readonly LaneBar[];
  log: readonly LogMark[];
  /** What each log is and how its clock was put onto session time. */
  logNotes: readonly string[];
  beyond: readonly BeyondBar[];
  faults: readonly LaneBar[];
  /** What fed the solution; none where no column says it. */
  feeds: readonly FeedBar[];
  /** Channels of states as named stretches; none where no column holds any. */
  states: readonly StateLane[];
  /** Stays inside the plan's zones; none where it declares none. */
  zones: readonly StateLane[];
  /** Stretches without any row of a source. */
  gaps: readonly TimeWindow[];
  remarks: readonly RemarkBar[];
  catalogue: StripCatalogue;
  arrangements: readonly KeptArrangement[];
  /** Recordings that can be played, and in words those that cannot; null where there is none of these. */
  recordings: readonly PlayedRecording[];
  silent: string | null;
}>;

export type TimelineInput = Readonly<{
  sessionId: string;
  reconstruction: Reconstruction;
  channels: readonly ChannelInfo[];
  findings: readonly Finding[];
  annotations: readonly Annotation[];
  arrangements?: readonly KeptArrangement[];
  recordings?: readonly Recording[];
}>;

export function timelineView(input: TimelineInput): TimelineView {
  const { reconstruction } = input;
  return {
    sessionId: input.sessionId,
    edition: `${reconstruction.inputsSha256} ${reconstruction.engine}`,
    title: reconstruction.session.title,
    zeroTaiNs: reconstruction.session.zeroTaiNs,
    missionZeroTaiNs: reconstruction.session.missionZeroTaiNs ?? null,
    session: sessionWindow(reconstruction),
    contactS: reconstruction.contact?.timeS.value ?? null,
    phases: phaseBars(reconstruction),
    plan: planBars(reconstruction),
    log: logMarks(reconstruction.events),
    logNotes: logNotes(reconstruction),
    beyond: [...beyondBars(reconstruction), ...brokenBars(reconstruction)],
    faults: reconstruction.dataQuality.map(faultBar),
    feeds:
      (reconstruction.navigation?.selector ?? null) === null
        ? []
        : feedBars(reconstruction, toldStretch),
    states: stateLanes(reconstruction, sessionWindow(reconstruction)),
    zones: zoneLanes(reconstruction),
    gaps: reconstruction.dataQuality
      .filter((fault) => fault.kind === 'gap' && fault.channel === null)
      .map((fault) => ({ fromS: fault.startS, toS: fault.endS })),
    remarks: remarkBars(input.findings, input.annotations),
    arrangements: input.arrangements ?? [],
    recordings: playedRecordings(input.recordings ?? [], input.sessionId),
    silent: silentRecordings(input.recordings ?? []),
    catalogue: stripCatalogue(input.channels, rulesByRoom(reconstruction), {
      runs: runBands(reconstruction.comparison),
      plan: planTraces(reconstruction),
    }),
  };
}

/** From the first row or entry (or zero) to the last; at least a second, so that it has a width. */
export function sessionWindow(reconstruction: Reconstruction): TimeWindow {
  const starts = reconstruction.sources.flatMap((source) => source.coverage?.[0] ?? []);
  const ends = reconstruction.sources.flatMap((source) => source.coverage?.[1] ?? []);
  const durationS = reconstruction.session.durationS.value ?? 0;
  const fromS = Math.min(0, ...starts);
  return { fromS, toS: Math.max(durationS, fromS + 1, ...ends) };
}

function phaseBars(reconstruction: Reconstruction): readonly PhaseBar[] {
  return reconstruction.phases.flatMap((phase, index) => phaseBar(reconstruction, phase, index));
}

/** A lane has little room: a run that nobody planned is called by its motion, and drawn as such. */
function phaseBar(
  reconstruction: Reconstruction,
  phase: Phase,
  index: number,
): readonly PhaseBar[] {
  const fromS = phase.startS.value;
  const toS = phase.endS.value;
  if (fromS === null || toS === null) return [];
  const name = nameOfRun(reconstruction, index);
  const isNamed = phase.step !== null || flownAgain(reconstruction, index) !== null;
  const planned = phase.step !== null;
  const ranges = `${formatFigure(phase.rangeStartM).text} to ${formatFigure(phase.rangeEndM).text}`;
  return [
    {
      id: `phase-${index}`,
      fromS,
      toS,
      label: isNamed ? name : RUN_WORDS[runKind(reconstruction, index)],
      motion: phase.motion,
      planned,
      detail: `${name}: ${toldStretch(fromS, toS)}, ${spokenDuration(toS - fromS)}, ${ranges}`,
    },
  ];
}

/** The plan as it would have run from the first flown step's start, each step as long as planned. */
function planBars(reconstruction: Reconstruction): readonly LaneBar[] {
  let fromS = reconstruction.phases[0]?.startS.value ?? null;
  if (fromS === null) return [];
  const bars: LaneBar[] = [];
  for (const step of reconstruction.plan?.steps ?? []) {
    const toS: number = fromS + step.plannedS;
    bars.push({
      id: `plan-${step.id}`,
      fromS,
      toS,
      label: nameFromId(step.id),
      detail: `Planned ${nameFromId(step.id)}: ${spokenDuration(step.plannedS)}`,
    });
    fromS = toS;
  }
  return bars;
}

/** Two stamps of the same words closer than this are one utterance in two logs. */
const SAME_WORDS_S = 1;

/** In time order. Words that stand in an event log and in a voice log alike are drawn once. */
function logMarks(events: readonly SessionEvent[]): readonly LogMark[] {
  const isRepeat = (said: SessionEvent): boolean =>
    said.event === null &&
    events.some(
      (other) =>
        other.event !== null &&
        other.text === said.text &&
        other.speaker === said.speaker &&
        Math.abs(other.timeS - said.timeS) <= SAME_WORDS_S,
    );
  return events
    .map((event, index) => ({ event, mark: logMark(event, index) }))
    .filter(({ event }) => !isRepeat(event))
    .map(({ mark }) => mark)
    .sort((a, b) => a.tS - b.tS);
}

function logMark(event: SessionEvent, index: number): LogMark {
  const words = event.text ?? event.event ?? '';
  const both =
    event.text !== null && event.event !== null ? `${event.event}: ${event.text}` : words;
  return {
    id: `log-${index}`,
    tS: event.timeS,
    kind: event.event === null ? 'said' : 'event',
    speaker: event.speaker,
    text: both,
  };
}

function logNotes(reconstruction: Reconstruction): readonly string[] {
  return reconstruction.sources
    .filter((source) => source.type === 'events')
    .map((source) => {
      const offset = source.clock.offsetS;
      if (source.clock.tiePointsUsed === 0 && (offset.value ?? 0) === 0) return source.file;
      const fitted = source.clock.tiePointsUsed > 0 ? ', fitted' : '';
      return `${source.file} ${formatFigure(offset, { form: 'signed' }).text}${fitted}`;
    });
}

function beyondBars(reconstruction: Reconstruction): readonly BeyondBar[] {
  return reconstruction.exceedances.flatMap((each, index) => {
    const fromS = each.startS.value;
    const toS = each.endS.value;
    if (fromS === null || toS === null) return [];
    const worst = formatFigure(each.worst, { unit: each.unit }).text;
    const limit = formatFigure(each.limit, { unit: each.unit }).text;
    return {
      rule: 'limit',
      id: `beyond-${index}`,
      fromS,
      toS,
      label: nameFromId(each.rule),
      detail: `${nameFromId(each.rule)} beyond its limit for ${formatFigure(each.durationS).text} from ${toldTime(fromS)}; worst ${worst} where ${limit} is allowed`,
    };
  });
}

/** A rule about events has no value beyond a limit: it is drawn where the events broke it. */
function brokenBars({ rules }: Reconstruction): readonly BeyondBar[] {
  return rules.flatMap(({ id, brokenOver = [], explanation }) =>
    brokenOver.map(({ fromS, toS }, index) => ({
      rule: 'events',
      id: `broken-${id}-${index}`,
      fromS,
      toS,
      label: `${nameFromId(id)} broken`,
      detail: `${nameFromId(id)} broken, ${toldStretch(fromS, toS)}: ${explanation.replace(/\.$/, '')}`,
    })),
  );
}

function faultBar(fault: DataFault, index: number): LaneBar {
  const what =
    fault.channel === null
      ? FAULT_WORDS[fault.kind]
      : `${fault.channel} ${FAULT_WORDS[fault.kind]}`;
  return {
    id: `fault-${index}`,
    fromS: fault.startS,
    toS: fault.endS,
    label: what,
    detail: `${what}, ${fault.source}, ${toldStretch(fault.startS, fault.endS)}: ${fault.note}`,
  };
}

/** Findings that stand and annotations, in time order; withdrawn findings are not drawn. */
function remarkBars(
  findings: readonly Finding[],
  annotations: readonly Annotation[],
): readonly RemarkBar[] {
  const bars: RemarkBar[] = [
    ...findings
      .filter((finding) => finding.state !== 'withdrawn')
      .map((finding) => ({
        kind: 'finding' as const,
        id: finding.id,
        fromS: finding.anchor.fromS,
        toS: finding.anchor.toS,
        label: `${finding.number} ${finding.title}`,
        detail: `Finding ${finding.number}, ${finding.severity}, ${finding.state}: ${finding.title}. ${toldStretch(finding.anchor.fromS, finding.anchor.toS)}`,
        finding,
      })),
    ...annotations.map((annotation) => ({
      kind: 'annotation' as const,
      id: annotation.id,
      fromS: annotation.anchor.fromS,
      toS: annotation.anchor.toS,
      label: annotation.text,
      detail: `${annotation.author}: ${annotation.text}. ${toldStretch(annotation.anchor.fromS, annotation.anchor.toS)}`,
      annotation,
    })),
  ];
  return bars.sort((a, b) => a.fromS - b.fromS || a.toS - b.toS);
}
