import type { SampleManifest } from './sample-manifest';

/** The manifest of a folder: its channels, range and counts. Throws when there is none. */
export async function columnsOf(_samplesRoot: string, _folder: string): Promise<SampleManifest> {
  throw new Error('columnsOf is not written yet');
}
