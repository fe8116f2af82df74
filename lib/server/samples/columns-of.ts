import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { invariant } from '@/lib/core/result';
import { manifestSchema, type SampleChannel, type SampleManifest } from './sample-manifest';
import { MANIFEST_FILE } from './seal-folder';

/** Folder names are made by this program; anything else, above all a path, is a bug upstream. */
const FOLDER_NAME = /^[0-9a-f]{12}-[0-9a-f]{12}$/;

/** The path of a sample folder. */
export function samplePath(samplesRoot: string, folder: string): string {
  invariant(FOLDER_NAME.test(folder), `"${folder}" is not the name of a sample folder`);
  return path.join(samplesRoot, folder);
}

/** The manifest of a folder: its channels, range and counts. Throws when there is none. */
export async function columnsOf(samplesRoot: string, folder: string): Promise<SampleManifest> {
  const text = await readFile(path.join(samplePath(samplesRoot, folder), MANIFEST_FILE), 'utf8');
  return manifestSchema.parse(JSON.parse(text));
}

/** The channel with that name in its source's header; throws when the folder has none. */
export function channelNamed(manifest: SampleManifest, name: string): SampleChannel {
  const channel = manifest.channels.find((candidate) => candidate.name === name);
  invariant(channel !== undefined, `no column "${name}" among the samples`);
  return channel;
}
