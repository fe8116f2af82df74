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
import { partsOfPlace, placeOfParts, STRIP_HEIGHTS } from './strip-places';
import type { AxisKind } from './timeline-clock';
import type { StripHeights, TimelineAddress } from './timeline-url';

/** The sheet beside the strips: a new remark, one that exists, one just taken away, or the channels. */
export type TimelineSheet =
  | Readonly<{ kind: 'new-finding' | 'new-annotation' | 'new-question'; stretch: TimeWindow }>
  | Readonly<{ kind: 'finding' | 'annotation'; id: string }>
  | Readonly<{ kind: 'withdrawn'; finding: Finding }>
  | Readonly<{ kind: 'removed'; annotation: Annotation }>
  | Readonly<{ kind: 'strips' }>
  | Readonly<{ kind: 'search' }>;

export type TimelineState = Readonly<{
  session: TimeWindow;
  window: TimeWindow;
  selection: TimeWindow | null;
  strips: readonly string[];
  heights: StripHeights;
  axis: AxisKind;
  /** Words that are looked for; empty for none. */
  sought: string;
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
  /** One strip joins another's place; a part of a shared place gets its own again. */
  | Readonly<{ kind: 'share-strip'; id: string; withId: string; known: ReadonlySet<string> }>
  | Readonly<{ kind: 'part-strip'; id: string; part: string; known: ReadonlySet<string> }>
  | Readonly<{ kind: 'size-strip'; id: string; heightPx: number }>
  | Readonly<{ kind: 'arrange'; address: Pick<TimelineAddress, 'strips' | 'heights' | 'axis'> }>
  | Readonly<{ kind: 'axis'; axis: AxisKind }>
  | Readonly<{ kind: 'seek'; sought: string }>
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
    case 'share-strip':
      return { ...state, strips: shared(state.strips, action) };
    case 'part-strip':
      return { ...state, strips: parted(state.strips, action) };
    case 'size-strip':
      return { ...state, heights: sized(state.heights, action) };
    case 'arrange': {
      const { strips, heights, axis } = action.address;
      return { ...state, strips, heights, axis };
    }
    case 'seek':
      return { ...state, sought: action.sought };
    case 'axis':
      return { ...state, axis: action.axis };
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

type Share = Readonly<{ id: string; withId: string; known: ReadonlySet<string> }>;

function shared(strips: readonly string[], { id, withId, known }: Share): readonly string[] {
  if (id === withId || !strips.includes(withId)) return strips;
  const place = placeOfParts([...partsOfPlace(withId, known), ...partsOfPlace(id, known)]);
  return strips.filter((each) => each !== id).map((each) => (each === withId ? place : each));
}

type Part = Readonly<{ id: string; part: string; known: ReadonlySet<string> }>;

function parted(strips: readonly string[], { id, part, known }: Part): readonly string[] {
  const rest = partsOfPlace(id, known).filter((each) => each !== part);
  if (rest.length === 0) return strips;
  const own = strips.includes(part) ? [] : [part];
  return strips.flatMap((each) => (each === id ? [placeOfParts(rest), ...own] : [each]));
}

/** The usual height is no entry, so that the address does not name it. */
function sized(
  heights: StripHeights,
  { id, heightPx }: Readonly<{ id: string; heightPx: number }>,
): StripHeights {
  const { usual, least, most } = STRIP_HEIGHTS;
  const { [id]: _before, ...others } = heights;
  const height = Math.round(Math.min(most, Math.max(least, heightPx)));
  return height === usual ? others : { ...others, [id]: height };
}
