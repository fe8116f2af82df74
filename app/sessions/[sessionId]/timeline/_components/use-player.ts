'use client';

import { type ComponentProps, useEffect, useMemo, useRef, useState } from 'react';
import { type PlayedRecording, recordingAt } from '@/lib/view/recordings/played-recordings';
import { elementEvents } from './player-element';
import { follow } from './player-following';
import {
  type PlayerHand,
  type PlayerInside,
  type PlayerParts,
  playerHand,
  type Shown,
} from './player-hand';
import { goTo, moved, pause, start, writePlace } from './player-winding';
import { useClock } from './use-axis';

type PlayerActs = Readonly<{
  toggle: () => void;
  choose: (id: string) => void;
  setSpeed: (speed: number) => void;
  retry: () => void;
  goToStart: () => void;
  events: ComponentProps<'video'>;
}>;

export type PlayerControl = Omit<Shown, 'recordingId'> &
  PlayerActs &
  Readonly<{ recording: PlayedRecording }>;

const AT_FIRST: Shown = {
  recordingId: '',
  state: 'idle',
  isOn: false,
  speed: 1,
  hasPicture: false,
  message: '',
  startS: null,
};

/** Plays, pauses and winds the element; the cursor follows it, and it follows the cursor. */
export function usePlayer(
  parts: PlayerParts,
  media: PlayerInside['media'],
  place: PlayerInside['place'],
): PlayerControl {
  const { hand, shown, recording } = usePlayerHand(parts, media, place);
  const { link, cursor } = parts;
  const acts = useMemo(() => playerActs(hand), [hand]);
  useEffect(() => {
    link.join({ toggle: acts.toggle, isPlaying: () => hand.now().shown.isOn });
    return () => link.join(null);
  }, [link, acts, hand]);
  useEffect(() => {
    writePlace(hand);
    const stop = cursor.subscribe(() => moved(hand));
    return () => {
      stop();
      clearTimeout(hand.own.winding);
    };
  }, [cursor, hand]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another recording stands at another time of its own
  useEffect(() => writePlace(hand), [recording.id, hand]);
  useEffect(() => (shown.state === 'playing' ? follow(hand) : undefined), [shown.state, hand]);
  return { ...shown, recording, ...acts };
}

/** What is shown, and the hand that always sees the newest of it. */
function usePlayerHand(
  parts: PlayerParts,
  media: PlayerInside['media'],
  place: PlayerInside['place'],
): Readonly<{ hand: PlayerHand; shown: Shown; recording: PlayedRecording }> {
  const clock = useClock();
  const [shown, setShown] = useState(AT_FIRST);
  const { recordings, cursor } = parts;
  const fallback = recordingAt(recordings, cursor.get(), '') ?? (recordings[0] as PlayedRecording);
  const recording = recordings.find(({ id }) => id === shown.recordingId) ?? fallback;
  const latest = useRef({ parts, shown, recording, clock });
  useEffect(() => {
    latest.current = { parts, shown, recording, clock };
  });
  const hand = useMemo(
    () => playerHand({ media, place, now: () => latest.current, setShown }),
    [media, place],
  );
  return { hand, shown, recording };
}

function playerActs(hand: PlayerHand): PlayerActs {
  const { media, now, show, cursorS } = hand;
  return {
    toggle: () => (now().shown.isOn ? pause(hand) : start(hand)),
    choose: (id) => {
      const { recordings } = now().parts;
      show({ recordingId: id, hasPicture: false, isOn: false, state: 'idle', message: '' });
      const chosen = recordings.find((each) => each.id === id);
      if (chosen !== undefined && recordingAt([chosen], cursorS(), id) === null)
        goTo(hand, chosen.fromS);
    },
    setSpeed: (speed) => {
      show({ speed });
      if (media.current !== null) media.current.playbackRate = speed;
    },
    retry: () => {
      show({ state: 'idle', message: '' });
      media.current?.load();
    },
    goToStart: () => goTo(hand, now().shown.startS ?? cursorS()),
    events: elementEvents(hand),
  };
}
