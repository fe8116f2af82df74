/** What the server and its publishing process say to one another. */
import type { DocNode } from '@/lib/core/debrief/document';
import type { Imprint } from '@/lib/core/debrief/record';
import type { Broken } from '../jobs/child-answer';
import type { MaterialOutline } from './full-material';
import type { PackageInputs } from './package/package-material';
import type { WrittenFile } from './published-folder';

export type PublishRequest = Readonly<{
  doc: DocNode;
  outline: MaterialOutline;
  imprint: Imprint;
  inputs: PackageInputs;
  /** Where the files are written: a folder that is not there yet and that start-up sweeps away. */
  folder: string;
}>;

export type RenderedDebrief = Readonly<{
  recordJson: string;
  sha256: string;
  files: readonly WrittenFile[];
}>;

export type Rendering =
  | Readonly<{ kind: 'rendered'; rendered: RenderedDebrief }>
  | Readonly<{ kind: 'open-blocks'; messages: readonly string[] }>;

export type PublishAnswer = Rendering | Broken;
