/** Steps planned and flown with their pieces, unplanned runs between them, rates against plan. */

import { leadsAway } from '../core/phases/match-steps';
import { type Unflown, unflownWhy } from '../core/reconstruction/flight-course';
import { completionOf, motionWord } from '../core/reconstruction/kind-words';
import type { Phase, Reconstruction, StepResult } from '../core/reconstruction/reconstruction';
import { nameOfRun } from '../core/reconstruction/run-name';
import { plannedLength } from '../core/reconstruction/stated-figures';
import { nameFromId } from '../core/session/name-from-id';
import { type FigureView, figureView, figureViewOrNull, timelineHref } from './figure-view';
import { type RunOffers, runOffers, startNote, stepNote } from './phase-edit-view';
import { isOutside } from './phases-answer';

/** One run of motion: a piece of a step, or one that nobody planned. */
export type RunRow = Readonly<{
  key: string;
  name: string;
  motion: Phase['motion'];
  motionName: string;
  isPlanned: boolean;
  start: FigureView;
  /** What a person set of it, with what was computed; null where nobody did. */
  startNote: string | null;
  stepNote: string | null;
  /** What may be corrected of it. */
  offers: RunOffers | null;
  duration: FigureView;
  rangeStart: FigureView;
  rangeEnd: FigureView;
  strip: Strip;
  href: string;
}>;

/** Where a run lies in the stretch that was evaluated, as fractions of it. */
export type Strip = Readonly<{ from: number; to: number; motion: Phase['motion'] }>;

export type StepRow = Readonly<{
  kind: 'step';
  key: string;
  name: string;
  /** `not known` says why: the data break off before contact, so it may have been flown. */
  state: ReturnType<typeof completionOf> | NotFlown;
  start: FigureView | null;
  startNote: string | null;
  stepNote: string | null;
  /** Of its first piece; null for a step that was not flown. */
  offers: RunOffers | null;
  flown: FigureView | null;
  planned: FigureView;
  difference: FigureView | null;
  rangeStart: FigureView | null;
  rangeEnd: FigureView | null;
  strips: readonly Strip[];
  /** The timeline at the step; null where it was not flown. */
  href: string | null;
  /** Empty for a step flown in one piece, whose only piece is the step itself. */
  pieces: readonly RunRow[];
}>;

export type UnplannedRow = RunRow & Readonly<{ kind: 'unplanned'; within: string | null }>;

export type RateRow = Readonly<{
  key: string;
  name: string;
  mean: FigureView;
  peak: FigureView;
  deviation: Readonly<{
    mean: FigureView;
    rms: FigureView;
    peak: FigureView;
    peakRange: FigureView;
    peakTime: FigureView;
    outside: FigureView;
    isOutside: boolean;
  }> | null;
  href: string;
}>;

export type PhasesView = Readonly<{
  planTitle: string | null;
  rows: readonly (StepRow | UnplannedRow)[];
  rates: readonly RateRow[];
  /** Whether an opening is among the rates, whose sign then is said. */
  ratesLead: 'inwards' | 'outwards too';
}>;

type NotFlown =
  | 'not flown'
  | 'no run of its own'
  | 'not flown: broken off'
  | 'not known: the data begin after it'
  | 'not known: the data end before it'
  | 'not known: the data end before contact';

function notFlownState(reconstruction: Reconstruction, index: number): NotFlown {
  const words: Readonly<Record<Unflown, NotFlown>> = {
    'not flown': 'not flown',
    'passed over': 'no run of its own',
    'broken off': 'not flown: broken off',
    'before the data': 'not known: the data begin after it',
    'after the data': leadsAway(reconstruction.plan)
      ? 'not known: the data end before it'
      : 'not known: the data end before contact',
  };
  return words[unflownWhy(reconstruction, index)];
}

/** Rows in the order flown; a step that was not flown stands after the one planned before it. */
export function phasesView(reconstruction: Reconstruction, sessionId: string): PhasesView {
  const offers = runOffers(reconstruction);
  const runs = reconstruction.phases.map((phase, index) => ({
    ...runRow(phase, index, reconstruction, sessionId),
    offers: offers[index] ?? null,
  }));
  const rows: (StepRow | UnplannedRow)[] = [];
  const seen = new Set<string>();
  for (const [index, phase] of reconstruction.phases.entries()) {
    const run = runs[index];
    if (run === undefined) continue;
    const step = reconstruction.steps.find(({ id }) => id === phase.step);
    if (step === undefined) {
      rows.push({ ...run, kind: 'unplanned', within: stepAround(reconstruction, phase) });
    } else if (!seen.has(step.id)) {
      seen.add(step.id);
      const pieces = runs.filter((_, other) => reconstruction.phases[other]?.step === step.id);
      rows.push(stepRow(step, pieces, { reconstruction, notFlown: 'not flown', sessionId }));
    }
  }
  const moves = reconstruction.phases.filter((phase) => isMove(reconstruction, phase));
  return {
    ratesLead: moves.some(({ motion }) => motion === 'opening') ? 'outwards too' : 'inwards',
    planTitle: reconstruction.plan?.title ?? null,
    rows: withUnflown(rows, reconstruction, sessionId),
    rates: reconstruction.phases.flatMap((phase, index) =>
      isMove(reconstruction, phase)
        ? [rateRow(phase, index, runs[index]?.name ?? '', { reconstruction, sessionId })]
        : [],
    ),
  };
}

/** A closing run, or an opening that a step of the plan asked for. */
function isMove({ plan }: Reconstruction, { motion, step }: Phase): boolean {
  if (motion === 'closing') return true;
  return motion === 'opening' && (step !== null || leadsAway(plan));
}

function runRow(
  phase: Phase,
  index: number,
  reconstruction: Reconstruction,
  sessionId: string,
): Omit<RunRow, 'offers'> {
  const name = nameOfRun(reconstruction, index);
  const label = (what: string) => `${name}, ${what}`;
  return {
    key: `phase-${index}`,
    name,
    motion: phase.motion,
    motionName: nameFromId(motionWord(phase)),
    isPlanned: phase.step !== null,
    start: figureView(phase.startS, { sessionId, label: label('start'), form: 'time' }),
    startNote: startNote(phase),
    stepNote: stepNote(phase),
    duration: figureView(phase.durationS, { sessionId, label: label('length'), form: 'duration' }),
    rangeStart: figureView(phase.rangeStartM, { sessionId, label: label('range at its start') }),
    rangeEnd: figureView(phase.rangeEndM, { sessionId, label: label('range at its end') }),
    strip: strip(phase, reconstruction),
    href: timelineHref(sessionId, phase.startS.value ?? 0, phase.endS.value ?? 0),
  };
}

function strip(phase: Phase, { evaluated, phases }: Reconstruction): Strip {
  const fromS = evaluated?.fromS ?? phases[0]?.startS.value ?? 0;
  const toS = evaluated?.toS ?? phases.at(-1)?.endS.value ?? fromS;
  const place = (timeS: number | null) =>
    toS === fromS ? 0 : Math.min(1, Math.max(0, ((timeS ?? fromS) - fromS) / (toS - fromS)));
  return { from: place(phase.startS.value), to: place(phase.endS.value), motion: phase.motion };
}

type StepPlace = Readonly<{
  reconstruction: Reconstruction;
  notFlown: NotFlown;
  sessionId: string;
}>;

function stepRow(
  step: StepResult,
  pieces: readonly RunRow[],
  { reconstruction, notFlown, sessionId }: StepPlace,
): StepRow {
  const name = nameFromId(step.id);
  const isFlown = step.pieces > 0;
  return {
    kind: 'step',
    key: `step-${step.id}`,
    name,
    state: isFlown ? completionOf(step) : notFlown,
    start: figureViewOrNull(step.startS, { sessionId, label: `${name}, start`, form: 'time' }),
    startNote: pieces[0]?.startNote ?? null,
    stepNote: pieces.length === 1 ? (pieces[0]?.stepNote ?? null) : null,
    offers: pieces[0]?.offers ?? null,
    flown: figureViewOrNull(step.durationS, {
      sessionId,
      label: `${name}, flown`,
      form: 'duration',
    }),
    planned: figureView(plannedLength(reconstruction, step), {
      sessionId,
      label: `${name}, planned`,
      form: 'duration',
    }),
    difference: figureViewOrNull(step.durationDeviationS, {
      sessionId,
      label: `${name}, flown less planned`,
      form: 'signed-duration',
    }),
    rangeStart: pieces[0]?.rangeStart ?? null,
    rangeEnd: pieces.at(-1)?.rangeEnd ?? null,
    href:
      step.startS?.value == null || step.endS?.value == null
        ? null
        : timelineHref(sessionId, step.startS.value, step.endS.value),
    strips: pieces.map((piece) => piece.strip),
    pieces: pieces.length > 1 ? pieces : [],
  };
}

/** The step during which an unplanned run happened, by name. */
function stepAround(reconstruction: Reconstruction, phase: Phase): string | null {
  const startS = phase.startS.value;
  if (startS === null) return null;
  const around = reconstruction.steps.find(
    (step) =>
      (step.startS?.value ?? Infinity) <= startS && startS < (step.endS?.value ?? -Infinity),
  );
  return around === undefined ? null : nameFromId(around.id);
}

function withUnflown(
  rows: readonly (StepRow | UnplannedRow)[],
  reconstruction: Reconstruction,
  sessionId: string,
): readonly (StepRow | UnplannedRow)[] {
  const all = [...rows];
  const { steps } = reconstruction;
  for (const [index, step] of steps.entries()) {
    if (all.some((row) => row.key === `step-${step.id}`)) continue;
    const before = steps[index - 1];
    let at = before === undefined ? -1 : all.findIndex((row) => row.key === `step-${before.id}`);
    // What was flown during the step before it comes first.
    while (at >= 0 && all[at + 1]?.kind === 'unplanned') at += 1;
    const notFlown = notFlownState(reconstruction, index);
    all.splice(at + 1, 0, stepRow(step, [], { reconstruction, notFlown, sessionId }));
  }
  return all;
}

function rateRow(
  phase: Phase,
  index: number,
  name: string,
  { reconstruction, sessionId }: Omit<StepPlace, 'notFlown'>,
): RateRow {
  const options = (what: string) => ({ sessionId, label: `${name}, ${what}` });
  const deviation = phase.rateDeviation;
  return {
    key: `rate-${index}`,
    name,
    mean: figureView(phase.meanClosingRateMps, options('mean closing rate')),
    peak: figureView(phase.peakClosingRateMps, options('peak closing rate')),
    deviation:
      deviation === null
        ? null
        : {
            mean: figureView(deviation.meanMps, { ...options('mean deviation'), form: 'signed' }),
            rms: figureView(deviation.rmsMps, options('rms deviation')),
            peak: figureView(deviation.peakMps, { ...options('peak deviation'), form: 'signed' }),
            peakRange: figureView(deviation.peakRangeM, options('range of the peak')),
            peakTime: figureView(deviation.peakS, { ...options('time of the peak'), form: 'time' }),
            outside: figureView(deviation.outsideToleranceS, options('time outside tolerance')),
            isOutside: isOutside(reconstruction, phase),
          },
    href: timelineHref(sessionId, phase.startS.value ?? 0, phase.endS.value ?? 0),
  };
}
