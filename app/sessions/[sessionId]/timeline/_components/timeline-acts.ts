'use client';

import type { Dispatch, KeyboardEvent, RefObject } from 'react';
import { clampTime, type TimeWindow, windowSpanS } from '@/lib/view/charts/time-window';
import type { LaneBar, TimelineView } from '@/lib/view/timeline';
import {
  axisChoices,
  axisWords,
  clockStretch,
  SESSION_AXIS,
  sameAxis,
  type TimelineClock,
} from '@/lib/view/timeline-clock';
import type { HistoryWay } from '@/lib/view/timeline-history';
import { nextStopS, type TimelineCommand, type TimelineStop } from '@/lib/view/timeline-keys';
import { lastWords, logText } from '@/lib/view/timeline-readout';
import type { SearchHit } from '@/lib/view/timeline-search';
import type { TimelineAction, TimelineState } from '@/lib/view/timeline-state';
import { barAt, stopsOf, textAtStop } from '@/lib/view/timeline-stops';
import type { TrailWay } from '@/lib/view/timeline-trail';
import type { CursorStore } from './cursor-store';
import type { PlayerLink } from './player-link';

/** What an act may look at and change. */
export type ActParts = Readonly<{
  view: TimelineView;
  /** What the words looked for are found in. */
  hits: readonly SearchHit[];
  clock: TimelineClock;
  state: TimelineState;
  dispatch: Dispatch<TimelineAction>;
  cursor: CursorStore;
  help: RefObject<HTMLElement | null>;
  step: (way: HistoryWay) => void;
  trail: (way: TrailWay) => void;
  player: PlayerLink;
  /** Read out by a screen reader. */
  say: (sentence: string) => void;
}>;

const FINE_S = 0.1;
const STOP_WORDS: Readonly<Record<TimelineStop, string>> = {
  event: 'log entry',
  exceedance: 'stretch beyond a limit',
  finding: 'finding or annotation',
  phase: 'phase',
};

/** Puts the cursor somewhere and brings it into the window. */
export function goTo({ cursor, dispatch, view }: ActParts, tS: number): void {
  cursor.set(clampTime(view.session, tS));
  dispatch({ kind: 'reveal', tS: cursor.get() });
}

function goToStop(parts: ActParts, stop: TimelineStop, direction: 1 | -1): void {
  const { view, cursor, say } = parts;
  const next = nextStopS(stopsOf(view, stop), cursor.get(), direction);
  if (next === null) {
    say(`No ${STOP_WORDS[stop]} ${direction === 1 ? 'after' : 'before'} the cursor.`);
    return;
  }
  goTo(parts, next);
  say(`${parts.clock.text(next)}, ${textAtStop(view, stop, next)}`);
}

function beginWriting(
  { state, dispatch, cursor, clock, say }: ActParts,
  what: 'finding' | 'annotation' | 'question',
): void {
  const at = cursor.get();
  const stretch = state.selection ?? { fromS: at, toS: at };
  if (state.selection === null) {
    dispatch({ kind: 'select', selection: stretch });
    say(`Nothing is selected: the ${what} stands at one instant, ${clock.text(at)}.`);
  }
  dispatch({ kind: 'open', sheet: { kind: `new-${what}`, stretch } });
}

function setEdge(
  { state: { selection }, dispatch, cursor, clock, say }: ActParts,
  edge: 'start' | 'end',
): void {
  const at = cursor.get();
  dispatch({ kind: 'set-edge', edge, tS: at });
  const other = edge === 'start' ? selection?.toS : selection?.fromS;
  const isPast = other !== undefined && (edge === 'start' ? at > other : at < other);
  const rest = isPast ? ` The ${edge === 'start' ? 'end' : 'start'} moved there with it.` : '';
  say(`Selection ${edge}s at ${clock.text(at)}.${rest}`);
}

function moveCursor(parts: ActParts, direction: 1 | -1, pace: 'step' | 'fine'): void {
  const stepS = pace === 'fine' ? FINE_S : windowSpanS(parts.state.window) / 100;
  goTo(parts, parts.cursor.get() + direction * stepS);
}

function goToHit(parts: ActParts, direction: 1 | -1): void {
  const { hits, cursor, clock, say } = parts;
  const stops = hits.map((hit) => hit.fromS);
  const next = nextStopS(stops, cursor.get(), direction);
  if (next === null) {
    const where = direction === 1 ? 'after' : 'before';
    say(hits.length === 0 ? 'Nothing is looked for.' : `No hit ${where} the cursor.`);
    return;
  }
  goTo(parts, next);
  const at = hits.filter((hit) => hit.fromS === next).map((hit) => hit.text);
  say(`${clock.text(next)}, ${at.join('; ')}`);
}

function nextAxis({ view, state, dispatch, say }: ActParts): void {
  const choices = axisChoices(view);
  const now = choices.findIndex((each) => sameAxis(each, state.axis));
  const axis = choices[(now + 1) % choices.length] ?? SESSION_AXIS;
  dispatch({ kind: 'axis', axis });
  say(`The axis is ${axisWords(axis, view)}.`);
}

/** Time counts from the last entry of the logs at or before the cursor. */
export function countFromHere({
  view,
  cursor,
  dispatch,
  say,
}: Pick<ActParts, 'view' | 'cursor' | 'dispatch' | 'say'>): void {
  const entry = lastWords(view.log, cursor.get());
  if (entry === null) {
    say('No log entry stands at or before the cursor.');
    return;
  }
  dispatch({ kind: 'axis', axis: { kind: 'since', eventS: entry.tS } });
  say(`The axis counts from ${logText(entry)}.`);
}

function frameSelection({ state, dispatch, say }: ActParts): void {
  if (state.selection !== null) dispatch({ kind: 'frame', stretch: state.selection });
  else say('Nothing is selected.');
}

/** What a command does to the page's state alone; null where it needs more than that. */
function actionOf({ cursor }: ActParts, command: TimelineCommand): TimelineAction | null {
  switch (command.kind) {
    case 'pan':
      return { kind: 'pan', share: command.direction / 2 };
    case 'zoom':
      return { kind: 'zoom', aroundS: cursor.get(), factor: command.factor };
    case 'whole-session':
      return { kind: 'whole-session' };
    case 'clear-selection':
      return { kind: 'select', selection: null };
    default:
      return null;
  }
}

/** Carries out what a key or a button stands for. */
export function runCommand(parts: ActParts, command: TimelineCommand): void {
  const action = actionOf(parts, command);
  if (action !== null) parts.dispatch(action);
  switch (command.kind) {
    case 'move-cursor':
      moveCursor(parts, command.direction, command.pace);
      break;
    case 'zoom-to-selection':
      frameSelection(parts);
      break;
    case 'go':
      goToStop(parts, command.stop, command.direction);
      break;
    case 'select-here': {
      const bar = barAt(parts.view, parts.cursor.get());
      if (bar === null) parts.say('No stretch is drawn at the cursor.');
      else selectStretch(parts, bar);
      break;
    }
    case 'type-time':
      document.querySelector<HTMLInputElement>('#timeline-go-to')?.select();
      break;
    case 'set-edge':
      setEdge(parts, command.edge);
      break;
    case 'write':
      beginWriting(parts, command.what);
      break;
    case 'trail':
      parts.trail(command.way);
      break;
    case 'play-or-pause':
      parts.player.toggle();
      break;
    case 'history':
      parts.step(command.way);
      if (parts.state.sheet?.kind === 'withdrawn' || parts.state.sheet?.kind === 'removed')
        parts.dispatch({ kind: 'close' });
      break;
    case 'search':
      parts.dispatch({ kind: 'open', sheet: { kind: 'search' } });
      break;
    case 'go-hit':
      goToHit(parts, command.direction);
      break;
    case 'next-axis':
      nextAxis(parts);
      break;
    case 'count-from-here':
      countFromHere(parts);
      break;
    case 'help':
      parts.help.current?.togglePopover();
  }
}

function attributeAbove(target: Element, name: string): string | null {
  return target.closest(`[${name}]`)?.getAttribute(name) ?? null;
}

/** From the first to the last of the marks and remarks that a count stands for. */
function stretchOf(view: TimelineView, ids: readonly string[]): TimeWindow | null {
  const times = [
    ...view.log.filter((mark) => ids.includes(mark.id)).map((mark) => mark.tS),
    ...view.remarks.filter((bar) => ids.includes(bar.id)).flatMap((bar) => [bar.fromS, bar.toS]),
  ];
  return times.length === 0 ? null : { fromS: Math.min(...times), toS: Math.max(...times) };
}

/** A press on a count zooms to what it counts, on a mark goes there, on a bar selects it. */
export function click(parts: ActParts, tS: number, target: Element): void {
  const { view, dispatch, cursor } = parts;
  const ids = attributeAbove(target, 'data-ids');
  if (ids !== null) {
    const stretch = stretchOf(view, ids.split(' '));
    if (stretch !== null) dispatch({ kind: 'frame', stretch });
    return;
  }
  const markId = attributeAbove(target, 'data-mark');
  const mark = view.log.find((each) => each.id === markId);
  if (mark !== undefined) {
    cursor.set(mark.tS);
    return;
  }
  cursor.set(tS);
  selectBar(parts, attributeAbove(target, 'data-bar'));
}

function selectStretch({ dispatch, clock, say }: ActParts, bar: LaneBar): void {
  dispatch({ kind: 'select', selection: { fromS: bar.fromS, toS: bar.toS } });
  say(`Selected ${clockStretch(clock, bar)}, ${bar.label}.`);
}

function selectBar(parts: ActParts, id: string | null): void {
  const { view, dispatch } = parts;
  const remark = view.remarks.find((bar) => bar.id === id);
  const states = view.states.flatMap(({ bars }) => bars);
  const bars = [...view.phases, ...view.beyond, ...view.feeds, ...states, ...view.faults];
  const bar = remark ?? bars.find((each) => each.id === id);
  if (bar === undefined) dispatch({ kind: 'select', selection: null });
  else selectStretch(parts, bar);
  if (remark !== undefined) dispatch({ kind: 'open', sheet: { kind: remark.kind, id: remark.id } });
}

/** False where the key belongs to a field, a button or an open popover. */
export function isForTimeline(event: KeyboardEvent): boolean {
  const { target, key } = event;
  if (target instanceof Element && target.closest('input, textarea, select') !== null) return false;
  const onButton = target instanceof Element && target.closest('button, a') !== null;
  if (onButton && (key === 'Enter' || key === ' ')) return false;
  // Escape then closes what is open over the strips; the selection stays.
  return !(key === 'Escape' && document.querySelector(':popover-open') !== null);
}
