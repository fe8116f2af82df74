/** A recording of sound or picture beside a session, with what people said of when it ran. */
import type { RecordingTie, RecordingWords } from './recording-words';

/** A person's word about when a recording ran. */
export type RecordingClock = Readonly<{
  id: string;
  version: number;
  ties: readonly RecordingTie[];
  author: string;
  reason: string;
  atIso: string;
  undone: Readonly<{ by: string; atIso: string }> | null;
}>;

export type Recording = Readonly<{
  id: string;
  version: number;
  name: string;
  mediaType: string;
  sha256: string;
  bytes: number;
  durationS: number | null;
  /** Folder with its file; empty where the file is not here. */
  folder: string;
  author: string;
  atIso: string;
  removed: Readonly<{ by: string; atIso: string }> | null;
  /** The newest first. */
  clocks: readonly RecordingClock[];
}>;

/** The clock that counts: the newest that was not undone; null where there is none. */
export function standingClock({ clocks }: Pick<Recording, 'clocks'>): RecordingClock | null {
  return clocks.find(({ undone }) => undone === null) ?? null;
}

/** A recording as it travels with a session's folder. */
export function recordingWords(recording: Recording): RecordingWords {
  const { name, sha256, bytes, mediaType, durationS, author } = recording;
  const clock = standingClock(recording);
  return {
    name,
    sha256,
    bytes,
    mediaType,
    durationS,
    ties: clock?.ties ?? [],
    author: clock?.author ?? author,
    reason: clock?.reason ?? '',
    atIso: clock?.atIso ?? null,
  };
}
