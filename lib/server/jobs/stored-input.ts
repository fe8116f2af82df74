/**
 * A session's input as it is kept: everything but the samples, which stay in their folders. From it
 * a reconstruction can be computed again without reading the original files.
 */
import type { PeopleFile } from '@/lib/core/session/read-people-file';
import type { SessionFile, TelemetrySpec } from '@/lib/core/session/session-file';
import type { EventSource, SessionInput, SessionSource } from '@/lib/core/session/session-input';
import { readTelemetrySource } from '../samples/read-telemetry';

export type StoredTelemetry = Readonly<{
  type: 'telemetry';
  file: string;
  sha256: string;
  /** Folder under the samples root. */
  folder: string;
  spec: TelemetrySpec;
}>;

export type StoredInput = Omit<SessionInput, 'sources'> &
  Readonly<{ sources: readonly (StoredTelemetry | EventSource)[] }>;

/** The same words whatever the order of their keys. */
function wordsKey(said: object): string {
  return JSON.stringify(Object.entries(said).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** What came with the files, then what was said since; the same words count once. */
function onceEach<Said extends object>(
  before: readonly Said[],
  since: readonly Said[],
): readonly Said[] {
  const known = new Set(before.map(wordsKey));
  return [...before, ...since.filter((said) => !known.has(wordsKey(said)))];
}

/**
 * The input with what people said since, after what came with the files. An exported people.yaml
 * that is brought back holds words that are kept here too: they count once.
 */
export function withCorrections(stored: StoredInput, said: PeopleFile): StoredInput {
  const clockCorrections = onceEach(stored.clockCorrections ?? [], said.clockCorrections);
  const stretchCorrections = onceEach(stored.stretchCorrections ?? [], said.stretchCorrections);
  return {
    ...stored,
    ...(clockCorrections.length === 0 ? {} : { clockCorrections }),
    ...(stretchCorrections.length === 0 ? {} : { stretchCorrections }),
  };
}

type Folders = readonly Readonly<{ file: string; folder: string }>[];

/** Takes the samples out and puts the names of their folders in. */
export function toStored(input: SessionInput, file: SessionFile, folders: Folders): StoredInput {
  return { ...input, sources: input.sources.map((source) => storedSource(source, file, folders)) };
}

function storedSource(
  source: SessionSource,
  sessionFile: SessionFile,
  folders: Folders,
): StoredTelemetry | EventSource {
  if (source.type === 'events') return source;
  const { file, sha256 } = source;
  const folder = folders.find((each) => each.file === file)?.folder;
  const spec = sessionFile.sources.find(
    (each): each is TelemetrySpec => each.type === 'telemetry' && each.file === file,
  );
  if (folder === undefined || spec === undefined) throw new Error(`${file} was not stored`);
  return { type: 'telemetry', file, sha256, folder, spec };
}

/** Reads the samples back from their folders. */
export async function fromStored(stored: StoredInput, samplesRoot: string): Promise<SessionInput> {
  const sources: SessionSource[] = [];
  for (const source of stored.sources) {
    if (source.type === 'events') sources.push(source);
    else sources.push(await readTelemetrySource(samplesRoot, source.folder, source.spec));
  }
  return { ...stored, sources };
}
