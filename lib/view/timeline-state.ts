/** What is shown, selected and being written on the timeline, and how each act changes it. */
import type { Annotation, Finding } from '../core/findings/finding';
import {
  clampTime,
  fitWindow,
  frameStretch,
  panWindow,
  revealTime,
  type TimeWindow,
  zoomWindow,
} from './charts/time-window';

/** The sheet beside the strips: a new remark, one that exists, one just taken away, or the channels. */
export type TimelineSheet =
  | Readonly<{ kind: 'new-finding' | 'new-annotation'; stretch: TimeWindow }>
  | Readonly<{ kind: 'finding' | 'annotation'; id: string }>
  | Readonly<{ kind: 'withdrawn'; finding: Finding }>
  | Readonly<{ kind: 'removed'; annotation: Annotation }>
  | Readonly<{ kind: 'strips' }>;

export type TimelineState = Readonly<{
  session: TimeWindow;
  window: TimeWindow;
  selection: TimeWindow | null;
  strips: readonly string[];
  sheet: TimelineSheet | null;
}>;

export type TimelineAction =
  | Readonly<{ kind: 'show'; window: TimeWindow }>
  | Readonly<{ kind: 'frame'; stretch: TimeWindow }>
  | Readonly<{ kind: 'reveal'; tS: number }>
  | Readonly<{ kind: 'zoom'; aroundS: number; factor: number }>
  | Readonly<{ kind: 'pan'; share: number }>
  | Readonly<{ kind: 'whole-session' }>
  | Readonly<{ kind: 'select'; selection: TimeWindow | null }>
  | Readonly<{ kind: 'set-edge'; edge: 'start' | 'end'; tS: number }>
  | Readonly<{ kind: 'toggle-strip'; id: string }>
  | Readonly<{ kind: 'move-strip'; id: string; by: 1 | -1 }>
  | Readonly<{ kind: 'strips'; strips: readonly string[] }>
  | Readonly<{ kind: 'open'; sheet: TimelineSheet }>
  | Readonly<{ kind: 'close' }>;

export function timelineReducer(state: TimelineState, action: TimelineAction): TimelineState {
  const { session, window } = state;
  switch (action.kind) {
    case 'show':
      return { ...state, window: fitWindow(action.window, session) };
    case 'frame':
      return { ...state, window: frameStretch(action.stretch, session) };
    case 'reveal':
      return { ...state, window: revealTime(window, session, action.tS) };
    case 'zoom':
      return { ...state, window: zoomWindow(window, session, action) };
    case 'pan':
      return { ...state, window: panWindow(window, session, action.share) };
    case 'whole-session':
      return { ...state, window: session };
    case 'select':
      return { ...state, selection: ordered(action.selection, session) };
    case 'set-edge':
      return { ...state, selection: withEdge(state, action.edge, action.tS) };
    case 'toggle-strip':
      return {
        ...state,
        strips: state.strips.includes(action.id)
          ? state.strips.filter((id) => id !== action.id)
          : [...state.strips, action.id],
      };
    case 'move-strip':
      return { ...state, strips: moved(state.strips, action.id, action.by) };
    case 'strips':
      return { ...state, strips: action.strips };
    case 'open':
      return { ...state, sheet: action.sheet };
    case 'close':
      return { ...state, sheet: null };
  }
}

function ordered(selection: TimeWindow | null, session: TimeWindow): TimeWindow | null {
  if (selection === null) return null;
  const ends = [clampTime(session, selection.fromS), clampTime(session, selection.toS)];
  return { fromS: Math.min(...ends), toS: Math.max(...ends) };
}

/** An edge set past the other one takes the other with it. */
function withEdge(state: TimelineState, edge: 'start' | 'end', tS: number): TimeWindow {
  const at = clampTime(state.session, tS);
  const before = state.selection ?? { fromS: at, toS: at };
  return edge === 'start'
    ? { fromS: at, toS: Math.max(at, before.toS) }
    : { fromS: Math.min(at, before.fromS), toS: at };
}

function moved(strips: readonly string[], id: string, by: 1 | -1): readonly string[] {
  const from = strips.indexOf(id);
  const to = from + by;
  const other = strips[to];
  if (from === -1 || other === undefined) return strips;
  return strips.map((each, index) => (index === from ? other : index === to ? id : each));
}
