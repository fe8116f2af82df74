/** Commanded phases beside the motion, as a table. */
import type { CommandedPhase, Reconstruction } from '../core/reconstruction/reconstruction';
import { nameOfRun } from '../core/reconstruction/run-name';
import { nameFromId } from '../core/session/name-from-id';
import { type FigureView, figureView, figureViewOrNull } from './figure-view';

export type CommandedRow = Readonly<{
  key: string;
  mode: string;
  /** The motion that the mode commands; null for none. */
  motion: string | null;
  commanded: FigureView;
  /** The run that carried it out; null where there is none. */
  run: string | null;
  begun: FigureView | null;
  delay: FigureView | null;
  /** Why there is no delay; empty where there is one or none is asked for. */
  why: string;
}>;

function rowOf(
  each: CommandedPhase,
  index: number,
  reconstruction: Reconstruction,
  sessionId: string,
): CommandedRow {
  const run = each.run === null ? undefined : reconstruction.phases[each.run];
  const options = (what: string) => ({ sessionId, label: `${each.name}, ${what}` });
  return {
    key: `commanded-${index}`,
    mode: nameFromId(each.name),
    motion: each.motion,
    commanded: figureView(each.startS, { ...options('commanded'), form: 'time' }),
    run: each.run === null ? null : nameOfRun(reconstruction, each.run),
    begun: figureViewOrNull(run?.startS ?? null, { ...options('motion begins'), form: 'time' }),
    delay: figureViewOrNull(each.delayS, { ...options('delay of the motion'), form: 'signed' }),
    why: each.why ?? '',
  };
}

/** One row a stretch of one mode; null where no source declares its modes. */
export function commandedRows(
  reconstruction: Reconstruction,
  sessionId: string,
): readonly CommandedRow[] | null {
  const { commanded } = reconstruction;
  if (commanded === undefined) return null;
  return commanded.map((each, index) => rowOf(each, index, reconstruction, sessionId));
}
