/** Every column of a session that can be drawn: derived ones, and each channel of each source. */
import { cache } from 'react';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { localActor } from '../actor';
import { samplesRoot } from '../data-folders';
import { db } from '../db';
import { columnsOf } from '../samples/columns-of';
import type { SampleManifest } from '../samples/sample-manifest';
import { loadDerivedFolder, loadReconstruction } from './load-reconstruction';
import { loadSources } from './load-sources';

/** A column in the sample store. Session time = `offsetS` + own time x `rate`. */
export type ChannelRow = Readonly<{
  /** `range` for a derived column, `telemetry.csv:vx` for one of a source. */
  key: string;
  source: string | null;
  folder: string;
  name: string;
  as: string;
  unit: string;
  offsetS: number;
  rate: number;
  /** Usual time between two samples, s; null where there are not two. */
  stepS: number | null;
}>;

const MOST_KEPT = 16;
const kept = new Map<string, Promise<ChannelRow[]>>();

/**
 * Columns with at least one sample, derived ones first. A sample folder that cannot be read leaves
 * its columns out: the strips then say that they are not there.
 *
 * Kept in memory by what they are made from, all of it immutable: each turn of the wheel on the timeline
 * asks for them, and reading a whole reconstruction for that took longer than the envelope.
 */
export const loadChannels = cache(async (sessionId: string): Promise<ChannelRow[]> => {
  const key = await whatTheyAreMadeFrom(sessionId);
  const found = kept.get(key) ?? readChannels(sessionId);
  kept.delete(key);
  kept.set(key, found);
  // A folder that could not be read may be there the next time.
  const forget = (): boolean => kept.delete(key);
  found.then((rows) => rows.length === 0 && forget(), forget);
  const oldest = kept.keys().next();
  if (kept.size > MOST_KEPT && oldest.done !== true) kept.delete(oldest.value);
  return found;
});

async function whatTheyAreMadeFrom(sessionId: string): Promise<string> {
  const session = { teamId: localActor().teamId };
  const [reconstruction, sources] = await Promise.all([
    db().reconstruction.findFirst({
      where: { sessionId, session },
      orderBy: { createdAt: 'desc' },
      select: { id: true },
    }),
    db().sourceVersion.findMany({
      where: { sessionId, superseded: null, session },
      orderBy: { file: 'asc' },
      select: { id: true },
    }),
  ]);
  const ids = [reconstruction?.id ?? 'none', ...sources.map((source) => source.id)];
  return [samplesRoot(), sessionId, ...ids].join(' ');
}

async function readChannels(sessionId: string): Promise<ChannelRow[]> {
  const [reconstruction, derivedFolder, sources] = await Promise.all([
    loadReconstruction(sessionId),
    loadDerivedFolder(sessionId),
    loadSources(sessionId),
  ]);
  const rows: ChannelRow[] = [];
  if (derivedFolder !== null)
    rows.push(...(await rowsOf(derivedFolder, { source: null, offsetS: 0, rate: 1 })));
  for (const source of sources) {
    if (source.type !== 'telemetry' || source.folder === '') continue;
    const clock = clockOf(reconstruction, source.file);
    rows.push(...(await rowsOf(source.folder, { source: source.file, ...clock })));
  }
  return rows;
}

type Place = Readonly<{ source: string | null; offsetS: number; rate: number }>;

async function rowsOf(folder: string, place: Place): Promise<ChannelRow[]> {
  const manifest = await columnsOf(samplesRoot(), folder).catch(() => null);
  if (manifest === null) return [];
  return manifest.channels
    .filter((channel) => channel.samples > 0)
    .map((channel) => ({
      key: place.source === null ? channel.name : `${place.source}:${channel.name}`,
      ...place,
      folder,
      name: channel.name,
      as: channel.as,
      unit: channel.unit,
      stepS: usualStepS(manifest, channel.samples),
    }));
}

function clockOf(
  reconstruction: Reconstruction | null,
  file: string,
): Readonly<{ offsetS: number; rate: number }> {
  const clock = reconstruction?.sources.find((each) => each.file === file)?.clock;
  return {
    offsetS: clock?.offsetS.value ?? 0,
    rate: 1 + (clock?.driftPpm.value ?? 0) * 1e-6,
  };
}

/**
 * Rows over the time they span; a channel with far fewer samples than rows is a slow one in fast
 * rows and has its own step.
 */
function usualStepS(manifest: SampleManifest, samples: number): number | null {
  const { fromS, toS, rows } = manifest;
  if (fromS === null || toS === null || rows < 2) return null;
  const isSlow = manifest.content === 'source' && samples < rows / 2;
  const count = isSlow ? samples : rows;
  return count < 2 ? null : (toS - fromS) / (count - 1);
}
