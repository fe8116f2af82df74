/** The cursor led by the recording while it plays. */
import { sessionAt, turnedWindow } from '@/lib/view/recordings/played-recordings';
import type { PlayerHand } from './player-hand';
import { pause } from './player-winding';

/** Who wants less motion sees the cursor step. */
const STEP_MS = 250;

/** The cursor goes with the recording, frame by frame, and the window is turned like a page. */
export function follow(hand: PlayerHand): () => void {
  const isCalm = matchMedia('(prefers-reduced-motion: reduce)').matches;
  let frame = 0;
  let lastMs = 0;
  const step = (atMs: number): void => {
    frame = requestAnimationFrame(step);
    const element = hand.media.current;
    if (element === null || element.paused || element.seeking) return;
    if (isCalm && atMs - lastMs < STEP_MS) return;
    lastMs = atMs;
    lead(hand, element.currentTime);
  };
  frame = requestAnimationFrame(step);
  return () => cancelAnimationFrame(frame);
}

function lead(hand: PlayerHand, playedS: number): void {
  const { parts, recording } = hand.now();
  const tS = sessionAt(recording, playedS);
  if (tS > parts.session.toS) {
    pause(hand, 'The session ends here.');
    return;
  }
  hand.own.cursorS = tS;
  parts.cursor.set(tS);
  const turned = turnedWindow(parts.window, tS);
  if (turned !== parts.window) parts.dispatch({ kind: 'show', window: turned });
}
