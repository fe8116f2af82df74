/** The element and the cursor brought to each other, played and paused. */
import { clampTime } from '@/lib/view/charts/time-window';
import { formatSessionTime } from '@/lib/view/format-time';
import { noneRunsText, recordedAt, recordingAt } from '@/lib/view/recordings/played-recordings';
import type { PlayerHand } from './player-hand';

/** A picture is wound once the cursor rests: each place costs a request. */
const WOUND_AFTER_MS = 120;

export function writePlace({ media, place, now, cursorS }: PlayerHand): void {
  if (place.current === null) return;
  const { recording } = now();
  const atS = recordedAt(recording, cursorS());
  const lengthS = media.current?.duration ?? Number.NaN;
  const of = Number.isFinite(lengthS) ? ` of ${formatSessionTime(lengthS)}` : '';
  place.current.textContent =
    atS < 0 || atS > lengthS ? 'not at the cursor' : `${formatSessionTime(atS)}${of}`;
}

export function pause({ media, now, show }: PlayerHand, message = ''): void {
  show({ isOn: false, state: 'idle', message });
  media.current?.pause();
  if (message !== '') now().parts.say(message);
}

function noneRuns(hand: PlayerHand): void {
  const { parts, clock } = hand.now();
  pause(hand, noneRunsText(parts.recordings, clock));
  const { fromS } = parts.recordings[0] ?? { fromS: 0 };
  hand.show({ startS: clampTime(parts.session, fromS) });
}

/** Brings the element to the cursor; false where another recording has to be loaded, or none runs. */
export function wind({ media, now, show, cursorS }: PlayerHand): boolean {
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
}

export function start(hand: PlayerHand): void {
  const { media, now, show, cursorS } = hand;
  const { parts, recording } = now();
  if (recordingAt(parts.recordings, cursorS(), recording.id) === null) {
    noneRuns(hand);
    return;
  }
  show({ isOn: true, state: 'waiting', message: '', startS: null });
  // Not loaded yet: it starts once its head is here.
  if (wind(hand)) void media.current?.play().catch(() => {});
  else if (media.current?.error) media.current.load();
}

/** The cursor has moved, by the player itself or by somebody else. */
export function moved(hand: PlayerHand): void {
  const { now, show, cursorS, own } = hand;
  writePlace(hand);
  if (cursorS() === own.cursorS) return;
  clearTimeout(own.winding);
  const { parts, shown, recording } = now();
  if (shown.startS !== null) show({ startS: null, message: '' });
  if (!shown.isOn) own.winding = setTimeout(() => wind(hand), WOUND_AFTER_MS);
  else if (recordingAt(parts.recordings, cursorS(), recording.id) === null) noneRuns(hand);
  else wind(hand);
}

export function goTo({ now, cursorS }: PlayerHand, tS: number): void {
  const { parts } = now();
  parts.cursor.set(clampTime(parts.session, tS));
  parts.dispatch({ kind: 'reveal', tS: cursorS() });
}
