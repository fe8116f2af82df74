/** What the element that plays says of itself, and what is made of it. */
import type { ComponentProps } from 'react';
import type { PlayerHand } from './player-hand';
import { pause, wind, writePlace } from './player-winding';

async function explain({ now, show }: PlayerHand): Promise<void> {
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
}

export function elementEvents(hand: PlayerHand): ComponentProps<'video'> {
  const { now, show } = hand;
  return {
    onLoadedMetadata: ({ currentTarget }) => {
      currentTarget.playbackRate = now().shown.speed;
      show({ hasPicture: currentTarget.videoWidth > 0 });
      writePlace(hand);
      if (wind(hand) && now().shown.isOn) void currentTarget.play().catch(() => {});
    },
    onPlaying: () => show({ state: 'playing', message: '' }),
    onWaiting: () => show({ state: 'waiting', message: 'Loading…' }),
    // The keys of a headset pause too. At its end the element pauses by itself.
    onPause: ({ currentTarget }) => {
      if (!currentTarget.ended && currentTarget.isConnected) show({ isOn: false, state: 'idle' });
    },
    onEnded: () => pause(hand, 'The recording ends here.'),
    onError: () => void explain(hand),
  };
}
