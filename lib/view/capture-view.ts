/** Capture, stage by stage, against the plan. */
import { halfWidth95 } from '../core/figure';
import type { CaptureReport, CaptureStageResult } from '../core/reconstruction/contact-report';
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import { plannedStage } from '../core/reconstruction/stated-figures';
import { nameFromId } from '../core/session/name-from-id';
import { formatNumber } from '../core/units/number-text';
import { type SeenView, seenView } from './evidence-words';
import { type FigureView, figureViewOrNull } from './figure-view';
import { formatDuration } from './format-time';
import type { Tone } from './labels';

export type StageStanding =
  | 'as planned'
  | 'early'
  | 'late'
  | 'too close to call'
  | 'no time planned'
  | 'not seen'
  | 'not known';

/** Fractions of the drawing's width; `planned` is the accepted stretch, null where none is. */
export type StageMark = Readonly<{
  planned: Readonly<{ from: number; to: number }> | null;
  at: number | null;
}>;

export type StageRow = Readonly<{
  key: string;
  name: string;
  planned: FigureView | null;
  /** How far off it may be, in words; null where nothing says. */
  tolerance: string | null;
  flown: FigureView | null;
  difference: FigureView | null;
  standing: StageStanding;
  tone: Tone;
  outOfOrder: string | null;
  seen: readonly SeenView[];
  mark: StageMark;
}>;

export type CaptureView = Readonly<{
  reports: readonly SeenView[];
  reportDelay: FigureView | null;
  stages: readonly StageRow[];
  settling: Readonly<{ limit: string; peak: FigureView | null; reason: string | null }>;
  retraction: Readonly<{ duration: FigureView | null; drawnIn: FigureView | null }> | null;
  latches: Readonly<{
    planned: number;
    closed: FigureView | null;
    tone: Tone;
    reason: string | null;
  }>;
  /** Length of the drawing, in words; empty where there is nothing to draw. */
  scale: string;
}>;

/** @returns null where nothing tells of contact or capture */
export function captureView(reconstruction: Reconstruction, sessionId: string): CaptureView | null {
  const { capture } = reconstruction;
  if (capture === null) return null;
  const lengthS = drawnLengthS(capture);
  const view = (figure: Parameters<typeof figureViewOrNull>[0], label: string) =>
    figureViewOrNull(figure, { sessionId, label });
  const { settling, latches, retraction } = capture;
  const limit = `${formatNumber(settling.limitMps * 1000, 1)} mm/s for ${settling.forS} s`;
  return {
    reports: capture.reports.map((seen) => seenView(seen, 'Contact reported', sessionId)),
    reportDelay: view(capture.reportDelayS, 'From first touch to the report of it'),
    stages: capture.stages.map((stage) => stageRow(stage, lengthS, reconstruction, sessionId)),
    settling: {
      limit,
      peak: view(settling.peakMps, 'Largest speed after first touch'),
      reason: settling.reason,
    },
    retraction:
      retraction === null
        ? null
        : {
            duration: view(retraction.durationS, 'Drawing in of the ring'),
            drawnIn: view(retraction.drawnInM, 'Way that the ring drew in'),
          },
    latches: {
      planned: latches.planned,
      closed: view(latches.closed, 'Latches closed'),
      tone: latchTone(latches),
      reason: latches.reason,
    },
    scale: lengthS === 0 ? '' : formatDuration(lengthS, 0),
  };
}

function latchTone({ planned, closed }: CaptureReport['latches']): Tone {
  if (closed?.value == null) return 'unsure';
  return closed.value < planned ? 'beyond' : 'inside';
}

/** The latest planned or flown stage after first touch, with a little room, s. */
function drawnLengthS({ stages }: CaptureReport): number {
  const ends = stages.flatMap(({ plannedS, toleranceS, afterContactS }) => [
    (plannedS ?? 0) + (toleranceS ?? 0),
    afterContactS?.value ?? 0,
  ]);
  return 1.05 * Math.max(0, ...ends);
}

function stageRow(
  stage: CaptureStageResult,
  lengthS: number,
  reconstruction: Reconstruction,
  sessionId: string,
): StageRow {
  const name = nameFromId(stage.stage);
  const standing = standingOf(stage);
  return {
    key: stage.stage,
    name,
    planned: figureViewOrNull(plannedStage(reconstruction, stage), {
      sessionId,
      label: `${name}, planned`,
      form: 'duration',
    }),
    tolerance: stage.toleranceS === null ? null : `± ${formatDuration(stage.toleranceS, 0)}`,
    flown: figureViewOrNull(stage.afterContactS, {
      sessionId,
      label: `${name}, time after first touch`,
      form: 'duration',
    }),
    difference: figureViewOrNull(stage.differenceS, {
      sessionId,
      label: `${name}, flown less planned`,
      form: 'signed-duration',
    }),
    standing,
    tone: TONES[standing],
    outOfOrder: stage.outOfOrder,
    seen: stage.seen.map((seen) => seenView(seen, name, sessionId)),
    mark: stageMark(stage, lengthS),
  };
}

const TONES: Readonly<Record<StageStanding, Tone>> = {
  'as planned': 'inside',
  early: 'beyond',
  late: 'beyond',
  'too close to call': 'unsure',
  'no time planned': 'quiet',
  'not seen': 'unsure',
  'not known': 'unsure',
};

/** Where the stage stands to its tolerance; nothing is called that its interval does not tell. */
function standingOf(stage: CaptureStageResult): StageStanding {
  if (stage.seen.length === 0) return stage.notKnown === undefined ? 'not seen' : 'not known';
  const off = stage.differenceS?.value;
  if (off == null || stage.differenceS === null) return 'no time planned';
  if (stage.toleranceS === null) return 'no time planned';
  const half = halfWidth95(stage.differenceS) ?? 0;
  const place = (value: number): -1 | 0 | 1 =>
    Math.abs(value) <= (stage.toleranceS ?? 0) ? 0 : value < 0 ? -1 : 1;
  const low = place(off - half);
  if (low !== place(off + half)) return 'too close to call';
  return low === 0 ? 'as planned' : low < 0 ? 'early' : 'late';
}

function stageMark(stage: CaptureStageResult, lengthS: number): StageMark {
  const place = (atS: number) => (lengthS === 0 ? 0 : Math.min(1, Math.max(0, atS / lengthS)));
  const { plannedS, toleranceS, afterContactS } = stage;
  const flownS = afterContactS?.value ?? null;
  const widthS = toleranceS ?? 0;
  return {
    planned:
      plannedS === null ? null : { from: place(plannedS - widthS), to: place(plannedS + widthS) },
    at: flownS === null ? null : place(flownS),
  };
}
