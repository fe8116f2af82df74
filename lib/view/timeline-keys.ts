/** What each key does on the timeline, in one table: the handler and the help read it alike. */

import type { TrailWay } from './timeline-trail';

export type TimelineStop = 'event' | 'exceedance' | 'finding' | 'phase';

export type TimelineCommand =
  | Readonly<{ kind: 'move-cursor'; direction: 1 | -1; pace: 'step' | 'fine' }>
  | Readonly<{ kind: 'pan'; direction: 1 | -1 }>
  | Readonly<{ kind: 'zoom'; factor: number }>
  | Readonly<{ kind: 'whole-session' }>
  | Readonly<{ kind: 'trail'; way: TrailWay }>
  | Readonly<{ kind: 'zoom-to-selection' }>
  | Readonly<{ kind: 'go'; stop: TimelineStop; direction: 1 | -1 }>
  | Readonly<{ kind: 'set-edge'; edge: 'start' | 'end' }>
  | Readonly<{ kind: 'select-here' }>
  | Readonly<{ kind: 'clear-selection' }>
  | Readonly<{ kind: 'type-time' }>
  | Readonly<{ kind: 'write'; what: 'finding' | 'annotation' | 'question' }>
  | Readonly<{ kind: 'play-or-pause' }>
  | Readonly<{ kind: 'history'; way: 'undo' | 'redo' }>
  | Readonly<{ kind: 'search' }>
  | Readonly<{ kind: 'go-hit'; direction: 1 | -1 }>
  | Readonly<{ kind: 'next-axis' }>
  | Readonly<{ kind: 'count-from-here' }>
  | Readonly<{ kind: 'help' }>;

/** The part of a keyboard event that decides. */
export type KeyStroke = Readonly<{
  key: string;
  shiftKey: boolean;
  ctrlKey: boolean;
  altKey: boolean;
  metaKey: boolean;
}>;

export const ZOOM_STEP = 2;

export type KeyHelp = Readonly<{ keys: readonly string[]; does: string }>;

export const TIMELINE_KEY_HELP: readonly KeyHelp[] = [
  { keys: ['←', '→'], does: 'cursor back, cursor on, a hundredth of what is shown' },
  { keys: ['Shift ←', 'Shift →'], does: 'cursor by 0.1 s' },
  { keys: ['Page Up', 'Page Down'], does: 'half a window back, half a window on' },
  { keys: ['+', '-'], does: 'zoom in, zoom out, about the cursor' },
  { keys: ['Home'], does: 'the whole session' },
  { keys: ['b', 'B'], does: 'back to the window looked at before, on again' },
  { keys: ['Enter'], does: 'zoom to the selection' },
  { keys: ['e', 'E'], does: 'next, previous entry of the logs' },
  { keys: ['x', 'X'], does: 'next, previous stretch beyond a limit' },
  { keys: ['f', 'F'], does: 'next, previous finding or annotation' },
  { keys: ['p', 'P'], does: 'next, previous phase' },
  { keys: ['[', ']'], does: 'selection starts, ends at the cursor' },
  { keys: ['s'], does: 'select the shortest stretch drawn at the cursor' },
  { keys: ['Escape'], does: 'no selection' },
  { keys: ['g'], does: 'go to a time that is typed' },
  { keys: ['/'], does: 'look for words, or for stretches beyond a value' },
  { keys: ['n', 'N'], does: 'next, previous hit of the words looked for' },
  { keys: ['t'], does: 'the next kind of axis' },
  { keys: ['z'], does: 'the axis counts from the log entry at the cursor' },
  { keys: ['w'], does: 'write a finding on the selection' },
  { keys: ['a'], does: 'annotate the selection' },
  { keys: ['q'], does: 'ask the crew about the selection' },
  { keys: ['k'], does: 'play or pause the recording, from the cursor on' },
  { keys: ['u', 'U'], does: 'undo, do again what was written in this visit' },
  { keys: ['?'], does: 'this list' },
];

const PLAIN: Readonly<Record<string, TimelineCommand>> = {
  ArrowLeft: { kind: 'move-cursor', direction: -1, pace: 'step' },
  ArrowRight: { kind: 'move-cursor', direction: 1, pace: 'step' },
  PageUp: { kind: 'pan', direction: -1 },
  PageDown: { kind: 'pan', direction: 1 },
  '+': { kind: 'zoom', factor: 1 / ZOOM_STEP },
  '=': { kind: 'zoom', factor: 1 / ZOOM_STEP },
  '-': { kind: 'zoom', factor: ZOOM_STEP },
  _: { kind: 'zoom', factor: ZOOM_STEP },
  Home: { kind: 'whole-session' },
  Enter: { kind: 'zoom-to-selection' },
  b: { kind: 'trail', way: 'back' },
  B: { kind: 'trail', way: 'on' },
  e: { kind: 'go', stop: 'event', direction: 1 },
  E: { kind: 'go', stop: 'event', direction: -1 },
  x: { kind: 'go', stop: 'exceedance', direction: 1 },
  X: { kind: 'go', stop: 'exceedance', direction: -1 },
  f: { kind: 'go', stop: 'finding', direction: 1 },
  F: { kind: 'go', stop: 'finding', direction: -1 },
  p: { kind: 'go', stop: 'phase', direction: 1 },
  P: { kind: 'go', stop: 'phase', direction: -1 },
  '[': { kind: 'set-edge', edge: 'start' },
  ']': { kind: 'set-edge', edge: 'end' },
  s: { kind: 'select-here' },
  g: { kind: 'type-time' },
  '/': { kind: 'search' },
  n: { kind: 'go-hit', direction: 1 },
  N: { kind: 'go-hit', direction: -1 },
  t: { kind: 'next-axis' },
  z: { kind: 'count-from-here' },
  Escape: { kind: 'clear-selection' },
  w: { kind: 'write', what: 'finding' },
  a: { kind: 'write', what: 'annotation' },
  q: { kind: 'write', what: 'question' },
  k: { kind: 'play-or-pause' },
  u: { kind: 'history', way: 'undo' },
  U: { kind: 'history', way: 'redo' },
  '?': { kind: 'help' },
};

/**
 * What a key stroke asks for.
 *
 * Strokes with Control, Alt or Meta belong to the browser and the system (Alt with an arrow is
 * "back"), so they ask for nothing here.
 */
export function timelineCommand(stroke: KeyStroke): TimelineCommand | null {
  if (stroke.ctrlKey || stroke.altKey || stroke.metaKey) return null;
  const command = Object.hasOwn(PLAIN, stroke.key) ? PLAIN[stroke.key] : undefined;
  if (command === undefined) return null;
  if (command.kind === 'move-cursor' && stroke.shiftKey) return { ...command, pace: 'fine' };
  return command;
}

/**
 * The next instant worth a look on one side of the cursor.
 *
 * @param stopsS session times in any order
 * @returns the nearest one strictly on that side; null when there is none
 */
export function nextStopS(
  stopsS: readonly number[],
  cursorS: number,
  direction: 1 | -1,
): number | null {
  const beyond = stopsS.filter((tS) => (tS - cursorS) * direction > 1e-6);
  if (beyond.length === 0) return null;
  return direction === 1 ? Math.min(...beyond) : Math.max(...beyond);
}
