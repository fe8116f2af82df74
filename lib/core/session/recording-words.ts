/** Recordings of sound or picture beside a session: which file, and when it ran. */
import type { PeopleFileData } from './people-schema';

/** A moment of the recording, s from its start, and of the session, s from zero. */
export type RecordingTie = readonly [recordingS: number, sessionS: number];

/** A recording as it travels with a folder; the file itself lies in `recordings/`, or is not there. */
export type RecordingWords = Readonly<{
  name: string;
  sha256: string;
  bytes: number;
  mediaType: string;
  /** null where its head does not say. */
  durationS: number | null;
  /** In the order of the recording; empty where nobody has said when it ran. */
  ties: readonly RecordingTie[];
  author: string;
  reason: string;
  /** When that was said, UTC; null where it is not known. */
  atIso: string | null;
}>;

/** Folder of the session folder in which recordings travel. */
export const RECORDINGS_FOLDER = 'recordings/';

/** More than this together stays out of an exported folder, which names each with its hash. Our own choice. */
export const MOST_EXPORTED_BYTES = 256 * 1024 * 1024;

/** A clock that runs wrong by more than this is a slip of the pen; as for the clocks of sources. */
const LARGEST_DRIFT = 0.1;

/**
 * What is wrong with tie points as the clock of a recording.
 *
 * @returns one sentence; null where nothing is
 */
export function faultOfTies(ties: readonly RecordingTie[]): string | null {
  const sorted = [...ties].sort(([a], [b]) => a - b);
  for (let index = 1; index < sorted.length; index++) {
    const [beforeS = 0, beforeSessionS = 0] = sorted[index - 1] ?? [];
    const [atS = 0, atSessionS = 0] = sorted[index] ?? [];
    if (atS === beforeS) return 'Two tie points stand at the same time of the recording.';
    const rate = (atSessionS - beforeSessionS) / (atS - beforeS);
    if (rate <= 0) return 'With these tie points the recording would run backwards.';
    if (Math.abs(rate - 1) > LARGEST_DRIFT)
      return `With these tie points the recording would run at ${rate.toFixed(2)} of its speed; at most 10 % from it is a clock.`;
  }
  return null;
}

type RecordingData = NonNullable<PeopleFileData['recordings']>[number];

/** An entry of people.yaml; tie points that are no clock are left out. */
export function readRecording(data: RecordingData): RecordingWords {
  const ties = data.tie_points ?? [];
  return {
    name: data.file,
    sha256: data.sha256,
    bytes: data.bytes,
    mediaType: data.media_type,
    durationS: data.length_s ?? null,
    ties: faultOfTies(ties) === null ? [...ties].sort(([a], [b]) => a - b) : [],
    author: data.by ?? '',
    reason: data.reason ?? '',
    atIso: data.at ?? null,
  };
}

/** A recording as an entry that `readRecording` reads back to the same. */
export function recordingData(recording: RecordingWords): RecordingData {
  const { name, sha256, bytes, mediaType, durationS, ties, author, reason, atIso } = recording;
  return {
    file: name,
    sha256,
    bytes,
    media_type: mediaType,
    ...(durationS === null ? {} : { length_s: durationS }),
    ...(ties.length === 0 ? {} : { tie_points: ties.map(([from, to]) => [from, to]) }),
    ...(author === '' ? {} : { by: author }),
    ...(reason === '' ? {} : { reason }),
    ...(atIso === null ? {} : { at: atIso }),
  };
}
