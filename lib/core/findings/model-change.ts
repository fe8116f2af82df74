/** A change proposed for the simulator's model: what a comparison ends in. */
import type { CapturedFigure } from './finding';

/** Common practice, no source. */
export const MODEL_CHANGE_STATES = ['proposed', 'agreed', 'made', 'declined'] as const;
export type ModelChangeState = (typeof MODEL_CHANGE_STATES)[number];

/** The words of a change: a parameter, its value now and as proposed, and who sees to it. */
export type ModelChangeWords = Readonly<{
  parameter: string;
  now: string;
  proposed: string;
  owner: string;
  state: ModelChangeState;
}>;

/** `figures` are the evidence, captured when they were chosen. */
export type ModelChange = ModelChangeWords &
  Readonly<{
    id: string;
    /** Counted per session, from 1, never used twice. */
    number: number;
    version: number;
    figures: readonly CapturedFigure[];
    author: string;
    updatedAtIso: string;
    removed: 'removed' | 'standing';
    /** How many changes of it can be undone. */
    undoable: number;
  }>;
