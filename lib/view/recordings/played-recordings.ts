/** Recordings as the timeline plays them, in step with its cursor. */
import { type ClockTerms, toSessionSeconds, toSourceSeconds } from '../../core/clock/clock-terms';
import { type Recording, standingClock } from '../../core/session/recording';
import { type TimeWindow, windowSpanS } from '../charts/time-window';
import type { TimelineClock } from '../timeline-clock';
import { recordingSpan, recordingTerms } from './recording-clock';

export type RecordingState = 'here' | 'not here' | 'removed' | 'deleted';

/** Whether its file is here, and whether it stands. */
export function recordingState({ removed, folder }: Recording): RecordingState {
  if (removed !== null) return folder === '' ? 'deleted' : 'removed';
  return folder === '' ? 'not here' : 'here';
}

/** A recording that the timeline can play in step. */
export type PlayedRecording = Readonly<{
  id: string;
  name: string;
  href: string;
  terms: ClockTerms;
  fromS: number;
  /** null where its length is known only once it is opened. */
  toS: number | null;
}>;

/** @returns those whose file is here and whose clock is set, in the order in which they begin */
export function playedRecordings(
  recordings: readonly Recording[],
  sessionId: string,
): readonly PlayedRecording[] {
  return recordings
    .flatMap((recording): PlayedRecording[] => {
      const clock = standingClock(recording);
      if (clock === null || recordingState(recording) !== 'here') return [];
      const { offsetS, driftPpm } = recordingTerms(clock.ties);
      const { id, name } = recording;
      return [
        {
          id,
          name,
          href: `/sessions/${encodeURIComponent(sessionId)}/recordings/${encodeURIComponent(id)}`,
          terms: { offsetS, driftPpm },
          ...recordingSpan({ offsetS, driftPpm }, recording.durationS),
        },
      ];
    })
    .sort((a, b) => a.fromS - b.fromS);
}

/** Recordings that the timeline knows of and cannot play, as one sentence; null where there is none. */
export function silentRecordings(recordings: readonly Recording[]): string | null {
  const standing = recordings.filter(({ removed }) => removed === null);
  const away = standing.filter(({ folder }) => folder === '').map(({ name }) => name);
  const unset = standing
    .filter((each) => each.folder !== '' && standingClock(each) === null)
    .map(({ name }) => name);
  const parts = [
    ...(away.length > 0 ? [`${away.join(', ')}: the file is not here.`] : []),
    ...(unset.length > 0 ? [`${unset.join(', ')}: its clock is not set.`] : []),
  ];
  return parts.length === 0 ? null : parts.join(' ');
}

/** Speeds at which browsers play without converting anything. */
export const PLAY_SPEEDS = [0.5, 1, 2, 4] as const;

/** Session time of a time of the recording, s. */
export function sessionAt({ terms }: PlayedRecording, recordingS: number): number {
  return toSessionSeconds(terms, recordingS);
}

/** Time of the recording at a session time, s; below 0 before it starts. */
export function recordedAt({ terms }: PlayedRecording, sessionS: number): number {
  return toSourceSeconds(terms, sessionS);
}

function runsAt({ fromS, toS }: PlayedRecording, tS: number): boolean {
  return tS >= fromS && (toS === null || tS < toS);
}

/**
 * The recording to play at an instant: the one that was chosen where it runs, else the first that does.
 *
 * @returns null where none runs then
 */
export function recordingAt(
  recordings: readonly PlayedRecording[],
  tS: number,
  chosenId: string,
): PlayedRecording | null {
  const running = recordings.filter((each) => runsAt(each, tS));
  return running.find(({ id }) => id === chosenId) ?? running[0] ?? null;
}

/** What is said where no recording runs at the cursor. */
export function noneRunsText(
  recordings: readonly PlayedRecording[],
  clock: Pick<TimelineClock, 'text'>,
): string {
  const spans = recordings.map(({ name, fromS, toS }) =>
    toS === null
      ? `${name} from ${clock.text(fromS)} on`
      : `${name} from ${clock.text(fromS)} to ${clock.text(toS)}`,
  );
  return `No recording runs at the cursor: ${spans.join('; ')}.`;
}

/** Where the cursor comes to stand after the page of the window has been turned, as a share of it. */
const TURNED_TO = 0.1;

/**
 * The window turned on like a page once the cursor has run out of it.
 *
 * @returns the same window while the cursor is in it
 */
export function turnedWindow(window: TimeWindow, tS: number): TimeWindow {
  if (tS >= window.fromS && tS <= window.toS) return window;
  const spanS = windowSpanS(window);
  const fromS = tS - TURNED_TO * spanS;
  return { fromS, toS: fromS + spanS };
}
