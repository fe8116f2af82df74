/** What the parts of the player share: the element, what is shown of it, and where it put the cursor. */
import type { Dispatch, RefObject } from 'react';
import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { PlayedRecording } from '@/lib/view/recordings/played-recordings';
import type { TimelineAction } from '@/lib/view/timeline-state';
import type { CursorStore } from './cursor-store';
import type { PlayerLink } from './player-link';
import type { useClock } from './use-axis';

type PlayerState = 'idle' | 'waiting' | 'playing' | 'failed';

export type PlayerParts = Readonly<{
  recordings: readonly PlayedRecording[];
  session: TimeWindow;
  window: TimeWindow;
  cursor: CursorStore;
  dispatch: Dispatch<TimelineAction>;
  link: PlayerLink;
  say: (sentence: string) => void;
}>;

/** What a person sees of the player; everything that moves with each frame stays out of it. */
export type Shown = Readonly<{
  recordingId: string;
  state: PlayerState;
  /** Somebody wants to hear it, whether or not it is loaded yet. */
  isOn: boolean;
  speed: number;
  hasPicture: boolean;
  message: string;
  /** Where a recording begins, while none runs at the cursor; null otherwise. */
  startS: number | null;
}>;

export type PlayerInside = Readonly<{
  media: RefObject<HTMLVideoElement | null>;
  /** Where the place in the recording is written. */
  place: RefObject<HTMLElement | null>;
  now: () => Readonly<{
    parts: PlayerParts;
    shown: Shown;
    recording: PlayedRecording;
    clock: ReturnType<typeof useClock>;
  }>;
  setShown: (change: (before: Shown) => Shown) => void;
}>;

export type PlayerHand = PlayerInside &
  Readonly<{
    show: (change: Partial<Shown>) => void;
    cursorS: () => number;
    /** Where the player itself has put the cursor last, s, and what winds the element once it rests. */
    own: { cursorS: number; winding: ReturnType<typeof setTimeout> | undefined };
  }>;

export function playerHand(inside: PlayerInside): PlayerHand {
  return {
    ...inside,
    show: (change) => inside.setShown((before) => ({ ...before, ...change })),
    cursorS: () => inside.now().parts.cursor.get(),
    own: { cursorS: Number.NaN, winding: undefined },
  };
}
