'use client';

import {
  type ComponentProps,
  type Dispatch,
  type RefObject,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import { clampTime, type TimeWindow } from '@/lib/view/charts/time-window';
import { formatSessionTime } from '@/lib/view/format-time';
import {
  noneRunsText,
  type PlayedRecording,
  recordedAt,
  recordingAt,
  sessionAt,
  turnedWindow,
} from '@/lib/view/recordings/played-recordings';
import type { TimelineAction } from '@/lib/view/timeline-state';
import type { CursorStore } from './cursor-store';
import type { PlayerLink } from './player-link';
import { useClock } from './use-axis';

export type PlayerState = 'idle' | 'waiting' | 'playing' | 'failed';

export type PlayerControl = Readonly<{
  recording: PlayedRecording;
  state: PlayerState;
  /** Somebody wants to hear it, whether or not it is loaded yet. */
  isOn: boolean;
  speed: number;
  hasPicture: boolean;
  message: string;
  /** Where a recording begins, while none runs at the cursor; null otherwise. */
  startS: number | null;
  toggle: () => void;
  choose: (id: string) => void;
  setSpeed: (speed: number) => void;
  retry: () => void;
  goToStart: () => void;
  events: ComponentProps<'video'>;
}>;

export type PlayerParts = Readonly<{
  recordings: readonly PlayedRecording[];
  session: TimeWindow;
  window: TimeWindow;
  cursor: CursorStore;
  dispatch: Dispatch<TimelineAction>;
  link: PlayerLink;
  say: (sentence: string) => void;
}>;
type Media = RefObject<HTMLVideoElement | null>;

/** What a person sees of the player; everything that moves with each frame stays out of it. */
type Shown = Readonly<{
  recordingId: string;
  state: PlayerState;
  isOn: boolean;
  speed: number;
  hasPicture: boolean;
  message: string;
  startS: number | null;
}>;

const AT_FIRST: Shown = {
  recordingId: '',
  state: 'idle',
  isOn: false,
  speed: 1,
  hasPicture: false,
  message: '',
  startS: null,
};

/** A picture is wound once the cursor rests: each place costs a request. */
const WOUND_AFTER_MS = 120;
/** Who wants less motion sees the cursor step. */
const STEP_MS = 250;

/** Plays, pauses and winds the element; the cursor follows it, and it follows the cursor. */
export function usePlayer(
  parts: PlayerParts,
  media: Media,
  place: RefObject<HTMLElement | null>,
): PlayerControl {
  const clock = useClock();
  const [shown, setShown] = useState(AT_FIRST);
  const { recordings, link, cursor } = parts;
  const fallback = recordingAt(recordings, cursor.get(), '') ?? (recordings[0] as PlayedRecording);
  const recording = recordings.find(({ id }) => id === shown.recordingId) ?? fallback;
  const latest = useRef({ parts, shown, recording, clock });
  useEffect(() => {
    latest.current = { parts, shown, recording, clock };
  });
  const acts = useMemo(
    () => makePlayer({ media, place, now: () => latest.current, setShown }),
    [media, place],
  );
  useEffect(() => {
    link.join({ toggle: acts.toggle, isPlaying: () => latest.current.shown.isOn });
    return () => link.join(null);
  }, [link, acts]);
  useEffect(() => {
    acts.writePlace();
    const stop = cursor.subscribe(acts.moved);
    return () => {
      stop();
      acts.rest();
    };
  }, [cursor, acts]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another recording stands at another time of its own
  useEffect(acts.writePlace, [recording.id, acts]);
  useEffect(() => (shown.state === 'playing' ? acts.follow() : undefined), [shown.state, acts]);
  return { ...shown, recording, ...acts.given };
}

type PlayerInside = Readonly<{
  media: Media;
  place: RefObject<HTMLElement | null>;
  now: () => Readonly<{
    parts: PlayerParts;
    shown: Shown;
    recording: PlayedRecording;
    clock: ReturnType<typeof useClock>;
  }>;
  setShown: (change: (before: Shown) => Shown) => void;
}>;

function makePlayer({ media, place, now, setShown }: PlayerInside) {
  /** Where the player itself has put the cursor last. */
  let ownS = Number.NaN;
  let winding: ReturnType<typeof setTimeout> | undefined;
  const show = (change: Partial<Shown>): void => setShown((before) => ({ ...before, ...change }));
  const cursorS = (): number => now().parts.cursor.get();

  const writePlace = (): void => {
    if (place.current === null) return;
    const { recording } = now();
    const atS = recordedAt(recording, cursorS());
    const lengthS = media.current?.duration ?? Number.NaN;
    const of = Number.isFinite(lengthS) ? ` of ${formatSessionTime(lengthS)}` : '';
    place.current.textContent =
      atS < 0 || atS > lengthS ? 'not at the cursor' : `${formatSessionTime(atS)}${of}`;
  };
  const pause = (message = ''): void => {
    show({ isOn: false, state: 'idle', message });
    media.current?.pause();
    if (message !== '') now().parts.say(message);
  };
  const noneRuns = (): void => {
    const { parts, clock } = now();
    pause(noneRunsText(parts.recordings, clock));
    const { fromS } = parts.recordings[0] ?? { fromS: 0 };
    show({ startS: clampTime(parts.session, fromS) });
  };
  /** Brings the element to the cursor; false where another recording has to be loaded, or none runs. */
  const wind = (): boolean => {
    const { parts, recording } = now();
    const running = recordingAt(parts.recordings, cursorS(), recording.id);
    if (running === null) return false;
    if (running.id !== recording.id) {
      show({ recordingId: running.id, hasPicture: false });
      return false;
    }
    const element = media.current;
    if (element === null || element.readyState === 0) return false;
    const atS = recordedAt(recording, cursorS());
    if (Math.abs(element.currentTime - atS) > 0.02) element.currentTime = atS;
    return true;
  };
  const start = (): void => {
    const { parts, recording } = now();
    if (recordingAt(parts.recordings, cursorS(), recording.id) === null) {
      noneRuns();
      return;
    }
    show({ isOn: true, state: 'waiting', message: '', startS: null });
    // Not loaded yet: it starts once its head is here.
    if (wind()) void media.current?.play().catch(() => {});
    else if (media.current?.error) media.current.load();
  };
  const moved = (): void => {
    writePlace();
    if (cursorS() === ownS) return;
    clearTimeout(winding);
    const { parts, shown, recording } = now();
    if (shown.startS !== null) show({ startS: null, message: '' });
    if (!shown.isOn) winding = setTimeout(wind, WOUND_AFTER_MS);
    else if (recordingAt(parts.recordings, cursorS(), recording.id) === null) noneRuns();
    else wind();
  };
  /** The cursor goes with the recording, frame by frame, and the window is turned like a page. */
  const follow = (): (() => void) => {
    const isCalm = matchMedia('(prefers-reduced-motion: reduce)').matches;
    let frame = 0;
    let lastMs = 0;
    const step = (atMs: number): void => {
      frame = requestAnimationFrame(step);
      const element = media.current;
      if (element === null || element.paused || element.seeking) return;
      if (isCalm && atMs - lastMs < STEP_MS) return;
      lastMs = atMs;
      const { parts, recording } = now();
      const tS = sessionAt(recording, element.currentTime);
      if (tS > parts.session.toS) {
        pause('The session ends here.');
        return;
      }
      ownS = tS;
      parts.cursor.set(tS);
      const turned = turnedWindow(parts.window, tS);
      if (turned !== parts.window) parts.dispatch({ kind: 'show', window: turned });
    };
    frame = requestAnimationFrame(step);
    return () => cancelAnimationFrame(frame);
  };
  const explain = async (): Promise<void> => {
    const { recording } = now();
    show({ state: 'failed', isOn: false, message: `${recording.name} cannot be played.` });
    const answer = await fetch(recording.href, { method: 'HEAD' }).catch(() => null);
    if (answer === null)
      return show({ message: 'The server does not answer: the recording cannot be loaded.' });
    show({
      message: answer.ok
        ? `Your browser does not play what is inside ${recording.name}; nothing is converted here. Another browser may play it.`
        : `The file of ${recording.name} is not here any more.`,
    });
  };
  const goTo = (tS: number): void => {
    const { parts } = now();
    parts.cursor.set(clampTime(parts.session, tS));
    parts.dispatch({ kind: 'reveal', tS: cursorS() });
  };
  const toggle = (): void => (now().shown.isOn ? pause() : start());
  return {
    toggle,
    moved,
    follow,
    writePlace,
    rest: () => clearTimeout(winding),
    given: {
      toggle,
      choose: (id: string) => {
        const { recordings } = now().parts;
        show({ recordingId: id, hasPicture: false, isOn: false, state: 'idle', message: '' });
        const chosen = recordings.find((each) => each.id === id);
        if (chosen !== undefined && recordingAt([chosen], cursorS(), id) === null)
          goTo(chosen.fromS);
      },
      setSpeed: (speed: number) => {
        show({ speed });
        if (media.current !== null) media.current.playbackRate = speed;
      },
      retry: () => {
        show({ state: 'idle', message: '' });
        media.current?.load();
      },
      goToStart: () => goTo(now().shown.startS ?? cursorS()),
      events: {
        onLoadedMetadata: ({ currentTarget }) => {
          currentTarget.playbackRate = now().shown.speed;
          show({ hasPicture: currentTarget.videoWidth > 0 });
          writePlace();
          if (wind() && now().shown.isOn) void currentTarget.play().catch(() => {});
        },
        onPlaying: () => show({ state: 'playing', message: '' }),
        onWaiting: () => show({ state: 'waiting', message: 'Loading…' }),
        // The keys of a headset pause too. At its end the element pauses by itself.
        onPause: ({ currentTarget }) => {
          if (!currentTarget.ended && currentTarget.isConnected)
            show({ isOn: false, state: 'idle' });
        },
        onEnded: () => pause('The recording ends here.'),
        onError: () => void explain(),
      } satisfies ComponentProps<'video'>,
    },
  };
}
