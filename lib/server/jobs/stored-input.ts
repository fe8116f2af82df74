/**
 * A session's input as it is kept: everything but the samples, which stay in their folders. From it
 * a reconstruction can be computed again without reading the original files.
 */
import { createHash } from 'node:crypto';
import type { PeopleFile } from '@/lib/core/session/read-people-file';
import { type SimulationsAbout, simulationsAbout } from '@/lib/core/session/runs-about';
import type { SessionFile, TelemetrySpec } from '@/lib/core/session/session-file';
import type {
  EventSource,
  SessionInput,
  SessionSource,
  SimulationSet,
  TelemetrySource,
} from '@/lib/core/session/session-input';
import { wordsKey } from '@/lib/core/session/words-key';
import { plural } from '@/lib/view/format-number';
import { runsSpec } from '../folder-simulations';
import { columnsOf } from '../samples/columns-of';
import { readRuns } from '../samples/read-runs';
import { readTelemetrySource } from '../samples/read-telemetry';

export type StoredTelemetry = Readonly<{
  type: 'telemetry';
  file: string;
  sha256: string;
  /** Folder under the samples root. */
  folder: string;
  spec: TelemetrySpec;
}>;

/** Simulator runs, all in one folder under the samples root. */
export type StoredRuns = Readonly<{
  files: string;
  like: string;
  about?: SimulationsAbout;
  folder: string;
  spec: TelemetrySpec;
}>;

/** Another session as a run: its name as one, what it is, and the source that shows its motion. */
export type StoredRunSession = Readonly<{
  name: string;
  basis: 'prediction' | 'reconstruction';
  is: 'flight' | 'simulation';
  source: StoredTelemetry;
}>;

export type StoredInput = Omit<SessionInput, 'sources' | 'simulations'> &
  Readonly<{
    sources: readonly (StoredTelemetry | EventSource)[];
    simulations?: StoredRuns;
    /** Other sessions that it is held against; absent where none is. */
    runSessions?: readonly StoredRunSession[];
  }>;

/** What was said since the files came: what counts, and the keys of words that were undone. */
export type WordsSince = Readonly<{ standing: PeopleFile; undone: readonly string[] }>;

/**
 * The input with what people said since, after what came with the files. An exported people.yaml
 * that is brought back holds words that are kept here too: they count once, and what was undone here
 * does not count because a file says it.
 */
export function withCorrections(
  stored: StoredInput,
  { standing, undone }: WordsSince,
): StoredInput {
  const isUndone = new Set(undone);
  const both = <Name extends keyof PeopleFile>(name: Name) => {
    const before: readonly object[] = stored[name] ?? [];
    const counting = before.filter((said) => !isUndone.has(wordsKey(said)));
    const known = new Set(counting.map(wordsKey));
    const since: readonly object[] = standing[name] ?? [];
    const all = [...counting, ...since.filter((said) => !known.has(wordsKey(said)))];
    // Each list holds what its two sources hold.
    const list = all as unknown as PeopleFile[Name];
    return all.length === 0 ? {} : ({ [name]: list } as Pick<PeopleFile, Name>);
  };
  const { clockCorrections, stretchCorrections, ...rest } = stored;
  const { phaseEdits, ruleDispositions, handlingTasks, handlingRatings, ...files } = rest;
  return {
    ...files,
    ...both('clockCorrections'),
    ...both('stretchCorrections'),
    ...both('phaseEdits'),
    ...both('ruleDispositions'),
    ...both('handlingTasks'),
    ...both('handlingRatings'),
  };
}

/** Folders under the samples root: of each telemetry source, and of the runs where there are any. */
type Folders = Readonly<{
  telemetry: readonly Readonly<{ file: string; folder: string }>[];
  runsFolder: string | null;
}>;

/** Takes the samples out and puts the names of their folders in. */
export function toStored(input: SessionInput, file: SessionFile, folders: Folders): StoredInput {
  const { simulations, ...rest } = input;
  const { telemetry, runsFolder } = folders;
  const spec = runsSpec(file);
  const sources = input.sources.map((source) => storedSource(source, file, telemetry));
  if (simulations === undefined || spec === null || runsFolder === null)
    return { ...rest, sources };
  const { files, like, about } = simulations;
  const said = about === undefined ? {} : { about };
  return { ...rest, sources, simulations: { files, like, ...said, folder: runsFolder, spec } };
}

function storedSource(
  source: SessionSource,
  sessionFile: SessionFile,
  folders: Folders['telemetry'],
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
  const { simulations, runSessions = [], ...rest } = stored;
  const own = simulations === undefined ? null : await ownRuns(simulations, samplesRoot);
  const set = await withRunSessions(own, runSessions, samplesRoot);
  return set === null ? { ...rest, sources } : { ...rest, sources, simulations: set };
}

/** The runs of the session's own folder. */
async function ownRuns(
  { files, like, about, folder, spec }: StoredRuns,
  samplesRoot: string,
): Promise<SimulationSet> {
  const runs = await readRuns(samplesRoot, folder, spec);
  const { source } = await columnsOf(samplesRoot, folder);
  const said = about === undefined ? {} : { about };
  return { files, like, sha256: source?.sha256 ?? '', ...said, runs };
}

/** Own runs with other sessions behind them; the hash is then over all of them. */
async function withRunSessions(
  own: SimulationSet | null,
  runSessions: readonly StoredRunSession[],
  samplesRoot: string,
): Promise<SimulationSet | null> {
  if (runSessions.length === 0) return own;
  const runs: TelemetrySource[] = [];
  for (const { name, source } of runSessions) {
    const read = await readTelemetrySource(samplesRoot, source.folder, source.spec);
    runs.push({ ...read, file: name });
  }
  const hash = createHash('sha256').update(own?.sha256 ?? '');
  for (const { file, sha256 } of runs) hash.update(`${sha256}  ${file}\n`);
  const others = plural(runSessions.length, 'session');
  const about = own?.about ?? simulationsAbout({ files: '', like: '' });
  const parts = runSessions.map(({ name, basis, is }) => ({ files: name, said: { basis }, is }));
  return {
    files: own === null ? others : `${own.files} and ${others}`,
    like: own?.like ?? '',
    sha256: hash.digest('hex'),
    about: { ...about, parts: [...about.parts, ...parts] },
    runs: [...(own?.runs ?? []), ...runs],
  };
}
