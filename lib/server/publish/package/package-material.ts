/** What a data package is made from beside its record, as plain values. */

import type { OtherFiles } from '../../uploads/zip-folder';

/** Plain values: they travel to the publishing process. */
export type PackageInputs = Readonly<{
  /** The session folder as it was imported; null where it is no longer there. */
  folder: string | null;
  /** Texts in place of, or beside, its files: what people said since. */
  texts: readonly (readonly [name: string, text: string])[];
  /** Recordings of sound and picture, under their names in that folder. */
  recordings: OtherFiles;
  /** Sample folders of the telemetry sources. */
  samples: readonly Readonly<{ file: string; folder: string }>[];
}>;
