/** Recordings of sound and picture as Sources lists them, and as the timeline plays them. */
import type { ClockTerms } from '../../core/clock/clock-terms';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { type Recording, type RecordingClock, standingClock } from '../../core/session/recording';
import { MOST_EXPORTED_BYTES } from '../../core/session/recording-words';
import { formatNumber } from '../../core/units/number-text';
import type { TimeWindow } from '../charts/time-window';
import { timelineHref } from '../figure-view';
import { stampText } from '../format-date';
import { formatBytes } from '../format-number';
import { formatSessionTime, formatStretch } from '../format-time';
import { sessionWindow } from '../timeline';
import { fieldTime } from '../timeline-readout';
import type { EntryPlace } from '../timeline-time-entry';
import { type RecordingState, recordingState } from './played-recordings';
import { recordingSpan, recordingTerms } from './recording-clock';

export type RecordingClockView = Readonly<{
  id: string;
  version: number;
  what: string;
  why: string;
  who: string;
  when: string;
  /** Who undid it and when; null while it stands. */
  undone: string | null;
}>;

export type RecordingView = Readonly<{
  id: string;
  version: number;
  name: string;
  about: string;
  length: string;
  sha256: string;
  state: RecordingState;
  /** What stands in the way of playing it; null where nothing does. */
  obstacle: string | null;
  clock: string;
  clockReason: string | null;
  coverage: Readonly<{ from: number; to: number; text: string; href: string }> | null;
  /** Why none can be drawn, in words; null where one is. */
  noCoverage: string | null;
  attached: string;
  clocks: readonly RecordingClockView[];
  /** What the form of its clock starts from. */
  start: Readonly<Record<'firstAt' | 'firstIs' | 'secondAt' | 'secondIs', string>>;
}>;

const KINDS: Readonly<Record<string, string>> = {
  'audio/wav': 'sound, WAV',
  'audio/mpeg': 'sound, MP3',
  'audio/ogg': 'sound, Ogg',
  'audio/flac': 'sound, FLAC',
  'video/mp4': 'sound or picture, MP4',
  'video/webm': 'sound or picture, WebM',
};

/** `00:12:30.0 + 35 ppm`: the start on session time, and how it runs. */
function termsText({ offsetS, driftPpm }: ClockTerms): string {
  const starts = `starts at ${formatSessionTime(offsetS)}`;
  return driftPpm === 0 ? starts : `${starts}, drift ${formatNumber(driftPpm, 0)} ppm`;
}

function clockView(clock: RecordingClock): RecordingClockView {
  const { id, version, ties, author, reason, atIso, undone } = clock;
  const points = ties.map(([at, is]) => `${formatSessionTime(at)} is ${formatSessionTime(is)}`);
  return {
    id,
    version,
    what: points.join(', '),
    why: reason,
    who: author,
    when: stampText(atIso),
    undone: undone === null ? null : `undone by ${undone.by}, ${stampText(undone.atIso)}`,
  };
}

/** As somebody would type it; empty for none. */
function typedTime(tS: number | undefined): string {
  return tS === undefined ? '' : fieldTime(tS);
}

function obstacleOf(recording: Recording, state: RecordingState): string | null {
  if (state === 'not here')
    return 'Its file is not here: it did not travel with the folder. Attach the file with this SHA-256 and it takes its place, with its clock.';
  return standingClock(recording) === null && state === 'here'
    ? 'Nobody has said yet when it ran: without a clock it cannot be played in step.'
    : null;
}

type Coverage = Pick<RecordingView, 'coverage' | 'noCoverage'>;

function coverageOf(
  recording: Recording,
  terms: ClockTerms | null,
  { sessionId, session }: Session,
): Coverage {
  if (terms === null) return { coverage: null, noCoverage: null };
  const { fromS, toS } = recordingSpan(terms, recording.durationS);
  if (toS === null)
    return {
      coverage: null,
      noCoverage: `from ${formatSessionTime(fromS)} on; its length is not in its head`,
    };
  const text = formatStretch(fromS, toS);
  if (toS < session.fromS || fromS > session.toS)
    return { coverage: null, noCoverage: `${text}, which lies beside the session` };
  const place = (tS: number): number =>
    Math.min(1, Math.max(0, (tS - session.fromS) / (session.toS - session.fromS)));
  const href = timelineHref(sessionId, Math.max(fromS, session.fromS), Math.min(toS, session.toS));
  return { coverage: { from: place(fromS), to: place(toS), text, href }, noCoverage: null };
}

/** The times that may be typed for a recording; before there is a reconstruction, of the first day. */
export function recordingPlace(
  reconstruction: Reconstruction | null,
  zeroTaiNs: string,
): EntryPlace {
  const session =
    reconstruction === null ? { fromS: 0, toS: DAY_S } : sessionWindow(reconstruction);
  return {
    session,
    zeroTaiNs,
    missionZeroTaiNs: reconstruction?.session.missionZeroTaiNs ?? null,
  };
}

const DAY_S = 86_400;

type Session = Readonly<{ sessionId: string; session: TimeWindow }>;

/** All that were attached, removed ones last. */
export function recordingsView(
  recordings: readonly Recording[],
  session: Session,
): readonly RecordingView[] {
  const isRemoved = (each: Recording): number => (each.removed === null ? 0 : 1);
  return [...recordings]
    .sort((a, b) => isRemoved(a) - isRemoved(b))
    .map((recording) => recordingView(recording, session));
}

function recordingView(recording: Recording, session: Session): RecordingView {
  const { id, version, name, mediaType, bytes, durationS, sha256, removed, author, atIso } =
    recording;
  const state = recordingState(recording);
  const clock = standingClock(recording);
  const terms = clock === null ? null : recordingTerms(clock.ties);
  const first = clock?.ties[0];
  // Of more than two, which only a file brings, the ones that lie farthest apart.
  const second = (clock?.ties.length ?? 0) > 1 ? clock?.ties.at(-1) : undefined;
  const who = author === '' ? '' : ` by ${author}`;
  return {
    id,
    version,
    name,
    sha256,
    state,
    about: [
      KINDS[mediaType] ?? mediaType,
      formatBytes(bytes),
      ...(bytes > MOST_EXPORTED_BYTES ? ['too large to go out with the folder'] : []),
    ].join(' · '),
    length: durationS === null ? 'not in its head' : formatSessionTime(durationS),
    obstacle: obstacleOf(recording, state),
    clock: terms === null ? 'not set' : termsText(terms),
    clockReason: clock !== null && clock.ties.length > 1 ? (terms?.reason ?? null) : null,
    ...coverageOf(recording, terms, session),
    attached:
      removed === null
        ? `attached${who}, ${stampText(atIso)}`
        : `taken off by ${removed.by}, ${stampText(removed.atIso)}`,
    clocks: recording.clocks.map(clockView),
    start: {
      firstAt: typedTime(first?.[0] ?? 0),
      firstIs: typedTime(first?.[1]),
      secondAt: typedTime(second?.[0]),
      secondIs: typedTime(second?.[1]),
    },
  };
}
